/**
 * Drawing by hand: what is held, where the cross stands, and the circuit as it looks while words about it are under way.
 * Each change is one gesture; a drag or a held key is one change, said when it is let go. Rule PL115.
 */
import { changeBetween, withChange } from '../../../core/log/circuitEdits.js';
import { checkCircuit } from '../../../core/plan/circuit/checkCircuit.js';
import type { Edited } from '../../../core/plan/circuit/edit/edited.js';
import type { Circuit, CircuitProblem, Place } from '../../../core/plan/circuit/types.js';
import { createStore, type Store } from '../../stores/store.js';
import { type Held, movedTo, placeOfHeld, steppedBy } from './held.js';

export interface Hand {
  readonly circuit: Circuit;
  /** As the desk has it: the map is fitted to it, so that nothing jumps under the hand. */
  readonly atDesk: Circuit;
  readonly held: Held;
  readonly cross: Place;
  /** Of a way being drawn; null: none is. */
  readonly drawing: readonly Place[] | null;
  /** The middle of a close look; null: the whole circuit. */
  readonly closeAt: Place | null;
  /** What is wrong with the drawing. */
  readonly faults: readonly CircuitProblem[];
  /** Why the last thing was not done. */
  readonly remark: string | null;
}

export interface CircuitHand {
  readonly store: Store<Hand>;
  /** Another drawing came from the desk: said elsewhere, or taken back. */
  follow(circuit: Circuit): void;
  hold(held: Held): void;
  /** The cross goes there and is held; while a way is drawn the place is its next point. */
  tap(place: Place): void;
  /** Not said before `letGo`. */
  step(eastM: number, northM: number): void;
  dragTo(held: Held, place: Place): void;
  shift(edited: Edited, text: string): void;
  letGo(): void;
  /** Said at once. */
  change(edited: Edited, text: string, held?: Held): void;
  draw(points: readonly Place[] | null): void;
  look(isClose: boolean): void;
  /** Something said before is being taken back: what is done meanwhile waits, and is done on the drawing that comes of it. */
  waitFor(work: Promise<unknown>): void;
}

/** What changed since the last word. Answers once the desk has it and its drawing has been read anew. */
type Say = (text: string, circuit: Circuit, was: Circuit) => Promise<boolean>;

export function createCircuitHand(first: Circuit, say: Say): CircuitHand {
  const start = first.spots[0]?.place ?? first.paddock;
  const store = createStore<Hand>({
    circuit: first,
    atDesk: first,
    held: first.spots[0] === undefined ? { kind: 'cross' } : { kind: 'spot', id: first.spots[0].id },
    cross: start,
    drawing: null,
    closeAt: null,
    faults: checkCircuit(first),
    remark: null,
  });
  let underWay = 0;
  let lastSent: Promise<unknown> = Promise.resolve();
  /** As the desk has it once all that is under way has come there. */
  let lastSaid = first;
  let unsaid: string | null = null;
  /** The desk's drawing without it may have come while words were under way: it is no older drawing, but the one that holds. */
  let wasTakenBack = false;
  const set = (change: Partial<Hand>) => store.update((hand) => ({ ...hand, ...change }));

  /** What was held may be gone, or have another number, on a drawing that comes from elsewhere. */
  const stillHeld = (circuit: Circuit, { held, cross }: Hand): Held =>
    placeOfHeld(circuit, held, cross) === null ? { kind: 'cross' } : held;

  function showDesk(circuit: Circuit): void {
    const hand = store.get();
    lastSaid = circuit;
    if (hand.circuit === circuit) return;
    const faults = isAlike(hand.circuit, circuit) ? hand.faults : checkCircuit(circuit);
    set({ circuit, faults, held: stillHeld(circuit, hand) });
  }

  async function send(text: string): Promise<void> {
    underWay++;
    const { circuit } = store.get();
    const was = lastSaid;
    lastSaid = circuit;
    const saying = say(text, circuit, was);
    lastSent = saying;
    const isSaid = await saying;
    underWay--;
    const { atDesk } = store.get();
    if (underWay > 0) return;
    if (!isSaid || wasTakenBack || isAlike(atDesk, store.get().circuit)) showDesk(atDesk);
    wasTakenBack = false;
  }

  /** Once each word under way has answered and been drawn. */
  async function sent(): Promise<void> {
    for (let last = null; last !== lastSent; ) {
      last = lastSent;
      await last;
    }
  }

  function showTakenBack(): void {
    if (underWay === 0 && unsaid === null) showDesk(store.get().atDesk);
    else wasTakenBack = true;
  }

  /** Whether it was done; why not is remarked. */
  function take({ circuit, problems }: Edited): boolean {
    const refused = problems.find(({ kind }) => kind === 'not-done');
    if (refused !== undefined) {
      set({ remark: refused.sentence });
      return false;
    }
    set({ circuit, faults: problems, remark: null });
    return true;
  }

  const letGo = (): void => {
    if (unsaid === null) return;
    const text = unsaid;
    unsaid = null;
    const { circuit, held, cross, closeAt } = store.get();
    if (closeAt !== null) set({ closeAt: placeOfHeld(circuit, held, cross) });
    void send(text);
  };

  function shift(edited: Edited, text: string): void {
    if (take(edited)) unsaid = text;
  }

  const acts = {
    letGo,
    shift,
    hold(held: Held) {
      letGo();
      const { circuit, cross, closeAt } = store.get();
      const place = placeOfHeld(circuit, held, cross) ?? cross;
      set({ held, cross: place, remark: null, ...(closeAt === null ? {} : { closeAt: place }) });
    },
    tap(place: Place) {
      letGo();
      const { drawing } = store.get();
      set({
        held: { kind: 'cross' },
        cross: place,
        remark: null,
        ...(drawing === null ? {} : { drawing: [...drawing, place] }),
      });
    },
    step(eastM: number, northM: number) {
      const { circuit, held, cross, closeAt } = store.get();
      const next = steppedBy(circuit, held, cross, eastM, northM);
      if ('longitudeDeg' in next) return set({ cross: next, ...(closeAt === null ? {} : { closeAt: next }) });
      shift(next, movedWords(circuit, held));
      keepHold(held, circuit);
    },
    dragTo(held: Held, place: Place) {
      const { circuit } = store.get();
      const edited = movedTo(circuit, held, place);
      if (edited === null) return set({ cross: place });
      shift(edited, movedWords(circuit, held));
      keepHold(held, circuit);
    },
    change(edited: Edited, text: string, held?: Held) {
      letGo();
      if (!take(edited)) return;
      const hand = store.get();
      const next = held ?? stillHeld(hand.circuit, hand);
      const cross = placeOfHeld(hand.circuit, next, hand.cross) ?? hand.cross;
      set({ held: next, cross, ...(hand.closeAt === null ? {} : { closeAt: cross }) });
      void send(text);
    },
    draw: (points: readonly Place[] | null) => set({ drawing: points }),
    look(isClose: boolean) {
      const { circuit, held, cross } = store.get();
      set({ closeAt: isClose ? placeOfHeld(circuit, held, cross) : null });
    },
  };
  const { inTurn, waitFor } = createTurn();
  return {
    store,
    // Words still under way end first: what is done next would else be done on a drawing that is not taken back yet.
    waitFor: (work) => waitFor(work.then(sent, sent).then(showTakenBack, showTakenBack)),
    follow(circuit) {
      set({ atDesk: circuit });
      if (underWay === 0 && unsaid === null) showDesk(circuit);
    },
    hold: (held) => inTurn(() => acts.hold(held)),
    tap: (place) => inTurn(() => acts.tap(place)),
    step: (eastM, northM) => inTurn(() => acts.step(eastM, northM)),
    dragTo: (held, place) => inTurn(() => acts.dragTo(held, place)),
    letGo: () => inTurn(acts.letGo),
    draw: (points) => inTurn(() => acts.draw(points)),
    look: (isClose) => inTurn(() => acts.look(isClose)),
    shift(edited, text) {
      const then = store.get().circuit;
      inTurn(() => acts.shift(rebased(edited, then, store.get().circuit), text));
    },
    change(edited, text, held) {
      const then = store.get().circuit;
      inTurn(() => acts.change(rebased(edited, then, store.get().circuit), text, held));
    },
  };

  /** Bends stand in their order along the line: the one that is moved may change places. */
  function keepHold(held: Held, before: Circuit): void {
    const { circuit, cross } = store.get();
    const name = held.kind === 'bend' ? before.bends[held.index]?.name : undefined;
    const next: Held =
      held.kind === 'bend' ? { kind: 'bend', index: circuit.bends.findIndex((bend) => bend.name === name) } : held;
    set({ held: next, cross: placeOfHeld(circuit, next, cross) ?? cross });
  }
}

/** At once, or when all that is waited for has come. */
function createTurn() {
  const later: (() => void)[] = [];
  let waiting = 0;
  const end = () => {
    waiting--;
    while (waiting === 0 && later.length > 0) later.shift()!();
  };
  return {
    inTurn: (act: () => void): void => {
      if (waiting > 0) later.push(act);
      else act();
    },
    waitFor(work: Promise<unknown>): void {
      waiting++;
      void work.then(end, end);
    },
  };
}

/** What was changed on one drawing, on the one that has come in its place meanwhile. */
function rebased(edited: Edited, then: Circuit, now: Circuit): Edited {
  if (then === now) return edited;
  const change = changeBetween(then, edited.circuit);
  const circuit = change === null ? now : withChange(now, change);
  const refused = edited.problems.filter(({ kind }) => kind === 'not-done');
  return { circuit, problems: [...refused, ...checkCircuit(circuit)] };
}

const isAlike = (one: Circuit, other: Circuit): boolean =>
  one === other || JSON.stringify(one) === JSON.stringify(other);

function movedWords(circuit: Circuit, held: Held): string {
  switch (held.kind) {
    case 'spot': {
      const spot = circuit.spots.find(({ id }) => id === held.id);
      return `Spot ${spot?.number} ${spot?.name} moved`;
    }
    case 'bend':
      return `The bend ${circuit.bends[held.index]?.name} moved`;
    case 'way':
      return `A point of the way ${held.id} moved`;
    case 'paddock':
      return 'The paddock moved';
    case 'line':
      return 'A point of the line moved';
    case 'cross':
      return '';
  }
}
