/** The pocket page: reads the day, draws it, and keeps it right by the phone's clock. */
import './pocket.css';
import { countdownText, nowView, shapeOf, shownAt } from './nowView.js';
import { clockCardView, handBackView, noDayView } from './otherViews.js';
import { browserSqueezer } from './squeezer.js';
import { type Keeping, PocketStore } from './store.js';

const SECOND_MS = 1000;
const now = (): number => Date.now();

const place = document.getElementById('pocket')!;
const inside = document.getElementById('day')?.textContent?.trim() ?? '';
const store = new PocketStore({
  keeping: storage(),
  squeezer: browserSqueezer,
  now,
  random: () =>
    Array.from(crypto.getRandomValues(new Uint8Array(4)), (byte) => byte.toString(16).padStart(2, '0')).join(''),
});

/** A browser may forbid even asking. */
function storage(): Keeping | null {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

let shape = '';

function draw(): void {
  const { day, view } = store.state;
  const key = document.activeElement?.getAttribute('data-key');
  const scroll = window.scrollY;
  place.replaceChildren(...parts());
  shape = day === null ? '' : shapeOf(shownAt(store, day, now()));
  // Who goes by keys or by ear stays where they were, or on the way there.
  const focused =
    key === null || key === undefined ? null : place.querySelector<HTMLElement>(`[data-key="${CSS.escape(key)}"]`);
  focused?.focus({ preventScroll: true });
  window.scrollTo(0, view === 'now' ? scroll : window.scrollY);
}

function parts(): readonly HTMLElement[] {
  const { day, view } = store.state;
  if (day === null) return [noDayView(store)];
  switch (view) {
    case 'now':
      return nowView(store, day, shownAt(store, day, now()));
    case 'clock-card':
      return [clockCardView(store, day, now())];
    case 'hand-back':
      return [handBackView(store, day)];
  }
}

/** Just after each whole second: the figure counts, and what it is counted for is drawn anew when it changes. */
function tick(): void {
  setTimeout(tick, SECOND_MS - (now() % SECOND_MS));
  const { day, view } = store.state;
  if (day === null || view === 'hand-back') return;
  const shown = shownAt(store, day, now());
  const figure = place.querySelector('.countdown');
  if (view === 'clock-card' || shapeOf(shown) !== shape) draw();
  else if (figure !== null) figure.textContent = countdownText(shown.glance);
}

async function start(): Promise<void> {
  const code = location.hash.slice(1);
  await store.start(code, inside);
  store.subscribe(draw);
  draw();
  tick();
  // Kept, the day need not stand in the address any more; else the address is all there is.
  if (code !== '' && store.state.isKept && store.state.trouble === null)
    history.replaceState(null, '', location.pathname + location.search);
}

addEventListener('hashchange', () => {
  const code = location.hash.slice(1);
  if (code !== '') void store.open(code);
});

void start();
// A page with its day inside needs nobody; the other is kept by its worker for where there is no signal.
if (inside === '' && 'serviceWorker' in navigator && location.protocol !== 'file:')
  navigator.serviceWorker.register('worker.js').catch(() => undefined);
