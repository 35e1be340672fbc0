/** Whom to look for at this spot, each with a large Got. */
import type { PocketDay, PocketStay, Tap, Watched } from '../core/plan/pocket/index.js';
import { button, drawn, el } from './dom.js';
import type { PocketStore } from './store.js';
import { lap, toGet, WORDS } from './words.js';

type GotTap = Extract<Tap, { kind: 'got' }>;

export function watchList(store: PocketStore, day: PocketDay, stay: PocketStay, timeOf: (wall: number) => string) {
  const { taps } = store.state;
  const riders = stay.watch.flatMap((place) => day.watch[place] ?? []);
  const open = riders.filter((rider) => gotOf(rider, stay, taps) === null);
  return el('section', { class: 'watch' }, [
    el('h2', {}, [WORDS.stillToGet, stay.toGet !== undefined && el('span', { class: 'num' }, [toGet(stay.toGet)])]),
    riders.length === 0 && el('p', { class: 'none' }, [WORDS.nothingToGet]),
    riders.length > 0 && open.length === 0 && el('p', { class: 'none' }, [WORDS.allGot]),
    el('ul', {}, [
      ...open.map((rider) => openItem(store, rider, stay)),
      ...riders.flatMap((rider) => {
        const got = gotOf(rider, stay, taps);
        return got === null ? [] : [gotItem(store, rider, got, timeOf)];
      }),
    ]),
  ]);
}

/** Here: the same rider is still wanted from other spots. */
function gotOf({ riderTag, number }: Watched, { spot }: PocketStay, taps: readonly Tap[]): GotTap | null {
  const isThisOne = (tap: Tap): tap is GotTap =>
    tap.kind === 'got' &&
    !tap.isUndone &&
    tap.spot === spot &&
    (riderTag === undefined ? tap.riderTag === undefined && tap.number === number : tap.riderTag === riderTag);
  return taps.findLast(isThisOne) ?? null;
}

function openItem(store: PocketStore, rider: Watched, { spot }: PocketStay): HTMLElement {
  const { words, more, number, code, riderTag, lapMs } = rider;
  const canBeSaid = riderTag !== undefined || number !== undefined;
  return el('li', {}, [
    picture(rider),
    el('div', { class: 'about' }, [
      el('p', { class: 'livery' }, [words]),
      more !== undefined && el('p', { class: 'second' }, [more]),
      el('p', { class: 'marks' }, [
        number === undefined ? WORDS.noNumber : el('span', { class: 'plate num' }, [number]),
        rider.isNeverSeen && el('span', {}, [WORDS.notSeen]),
        !rider.isNeverSeen && lapMs !== undefined && el('span', { class: 'num' }, [`${WORDS.lap} ${lap(lapMs)}`]),
        code !== undefined && el('span', { class: 'code' }, [code]),
      ]),
    ]),
    canBeSaid &&
      button(
        `got-${riderTag ?? number}`,
        { class: 'got-it', 'aria-label': `${WORDS.got}: ${words}` },
        [WORDS.got],
        () =>
          store.tap({
            kind: 'got',
            spot,
            ...(riderTag !== undefined && { riderTag }),
            ...(number !== undefined && { number }),
          }),
      ),
  ]);
}

const gotItem = (store: PocketStore, { words }: Watched, tap: GotTap, timeOf: (wall: number) => string): HTMLElement =>
  el('li', { class: 'is-got' }, [
    el('p', { class: 'struck' }, [words]),
    el('p', {}, [`${WORDS.got} `, el('span', { class: 'by num' }, [`${WORDS.you} ${timeOf(tap.at)}`])]),
    button(
      `back-${tap.seq}`,
      { class: 'small', 'aria-label': `${WORDS.takeBack}: ${WORDS.got}, ${words}` },
      [WORDS.takeBack],
      () => store.takeBack(tap.seq),
    ),
  ]);

/** The crop, or the colours as tabs where there is none: the words say the same beside it. */
function picture({ crop, bike, helmet, isNeverSeen }: Watched): HTMLElement {
  if (crop !== undefined)
    return el('img', { src: `data:image/jpeg;base64,${base64(crop)}`, alt: '', width: 104, height: 74 });
  const width = bike.length === 0 ? 0 : 44 / bike.length;
  return el('span', { class: 'no-picture' }, [
    drawn('svg', { class: 'tabs', viewBox: '0 0 76 26', 'aria-hidden': true }, [
      ...bike.map((colour, at) => drawn('rect', { class: `is-${colour}`, x: 1 + at * width, y: 1, width, height: 24 })),
      helmet === undefined ? null : drawn('circle', { class: `is-${helmet}`, cx: 62, cy: 13, r: 11 }),
    ]),
    isNeverSeen && el('span', {}, [WORDS.inNoFrame]),
  ]);
}

const base64 = (bytes: Uint8Array): string => btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
