/** Sits a person down at the riders: where the address says, else as one sat before the page was opened again, else at whose turn it is. */
import { useNavigate } from '@tanstack/react-router';
import { useEffect, useRef } from 'react';
import type { ChoosingView } from '../../server/choosing/types.js';
import { saidLine } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { recalled, rememberedSitting, rememberSitting } from './remembered.js';
import { goneTo, type Sitting, seated, sit, sitting } from './sitting.js';
import { useAfterwards } from './useAfterwards.js';
import { nobodyCalled } from './words.js';

export function useSeat(view: ChoosingView | undefined, asked: string | undefined): void {
  const now = useStore(sitting);
  const navigate = useNavigate();
  useEffect(() => {
    if (view) sit((before) => seated(begun(before, view, asked), view, asked));
  }, [view, asked]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what the address says later was written from here
  useEffect(() => {
    if (asked !== undefined) sit((before) => goneTo(before, asked));
  }, []);
  useAddressOfNobody(view, asked);
  // For the page that is opened again: the address names who stands there, the browser keeps the rest.
  const { at } = now;
  useAfterwards(() => {
    if (at !== null)
      void navigate({ to: '/choosing', search: at === 'over' ? {} : { rider: at }, replace: true, resetScroll: false });
  }, [at]);
  useAfterwards(() => {
    if (at !== null) rememberSitting(now);
  }, [now]);
}

function begun(before: Sitting, view: ChoosingView, asked: string | undefined): Sitting {
  const remembered = before.at === null ? rememberedSitting() : null;
  return remembered ? recalled(before, remembered, view, asked) : before;
}

/** Somebody else stands there: once, a sentence says so. */
function useAddressOfNobody(view: ChoosingView | undefined, asked: string | undefined): void {
  const opened = useRef(asked);
  useEffect(() => {
    const key = opened.current;
    if (!view || key === undefined) return;
    opened.current = undefined;
    const isNobody = view.riders.length > 0 && !view.riders.some((rider) => rider.key === key);
    if (isNobody) saidLine.set({ kind: 'refused', text: nobodyCalled(key) });
  }, [view]);
}
