import { register } from 'tsx/esm/api';

// A thread does not inherit what the command was started with to read TypeScript.
register();
await import('./slabDesk.ts');
