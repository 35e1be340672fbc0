/** Jobs in child processes: a crash costs one file, never the program. */
export { ChildPool, type ChildPoolOptions, type Trouble } from './pool.js';
export { serve } from './serve.js';
