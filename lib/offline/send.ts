/** Loaded by a page of the club only when this device has changes that were never sent. Bundled by itself (scripts/build.ts). */
export { forgetMember, keptPages, sendKept } from '@/lib/live/device';
