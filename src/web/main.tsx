/** The desk's screens: paired first, then drawn, then kept fresh. */
import '@fontsource-variable/archivo/wdth.css';
import '@fontsource-variable/archivo/wdth-italic.css';
import './styles/tokens.css';
import './styles/sheet.css';
import './styles/dayLine.css';
import './styles/parts.css';
import './styles/sheets.css';
import './styles/riders.css';
import './styles/office.css';
import './styles/lunch.css';
import './styles/circuit.css';
import './styles/plan.css';
import './styles/pocket.css';
import './styles/choosing.css';
import './styles/finish.css';
import './styles/apart.css';
import './styles/worked.css';
import './styles/orders.css';
import './styles/takings.css';
import './styles/narrow.css';
import './styles/print.css';
import { QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { createRoot } from 'react-dom/client';
import { followChanges } from './api/events.js';
import { pairFromAddress } from './api/pairing.js';
import { queries } from './api/queries.js';
import { listenToKeys } from './keys/keyboard.js';
import { restorePaper } from './Paper.js';
import { router } from './router.js';

const place = document.getElementById('desk');
if (!place) throw new Error('Expected an element called “desk” in the page but there is none.');

restorePaper();
listenToKeys();
// A refused word shows itself: the first view is refused too, with the desk's sentence.
await pairFromAddress().catch(() => undefined);
createRoot(place).render(
  <QueryClientProvider client={queries}>
    <RouterProvider router={router} />
  </QueryClientProvider>,
);
followChanges(queries);
