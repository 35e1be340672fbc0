/** The session that the current frame is of: kept dark on the day line while the rest pales. */
import { createStore } from '../stores/store.js';

export const sessionLookedAt = createStore<number | null>(null);
