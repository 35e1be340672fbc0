/** Another meeting's rates that this one is set beside; stays while one goes to other sheets. */
import { createStore } from '../stores/store.js';

export interface BesideFile {
  readonly file: File;
  /** When it was chosen, so that a file that has changed is read again. */
  readonly at: number;
}

export const besideFile = createStore<BesideFile | null>(null);
