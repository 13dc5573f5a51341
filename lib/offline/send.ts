/** Loaded by a page of the club only when this device has something to send or to let go of. Bundled by itself (scripts/build.ts). */
export { forgetMember, forgetSent, keptPages, recallKept, sendKept } from '@/lib/live/device';
