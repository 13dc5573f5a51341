// Plain JavaScript, because a new thread does not run TypeScript by itself, whatever its parent does.
import { register } from 'tsx/esm/api';

register();
await import('./fold-worker.ts');
