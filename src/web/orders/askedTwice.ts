/** What is asked once more, for it is not taken back: a reference, or a message's id. One at a time, so that no key says two things. */
import { createStore } from '../stores/store.js';

export const askedTwice = createStore<string | null>(null);
