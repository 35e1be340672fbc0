/**
 * The gallery's one script, built into `look/find.js` (`npx vite build -c vite.gallery.config.ts`). Everything it does can be
 * done without it, by links and forms; it saves going from page to page.
 */
import { startAside } from './aside.js';
import { startFinder } from './finder.js';
import { startSharing } from './sharing.js';

startFinder();
startAside();
startSharing();
