/** A file brought in, as far as it is read: how much of it, with the time left, then what it holds. */
import { useEffect, useRef, useState } from 'react';
import type { AboutBrought, Brought } from '../../../core/plan/circuit/readBrought.js';
import type { BroughtAsked, BroughtTold } from './bringing.worker.js';

export interface Reading {
  /** Of the last question that was answered; null: none yet. */
  readonly brought: Brought | null;
  /** From 0 to 1; null: nothing is being read. */
  readonly share: number | null;
  readonly secondsLeft: number | null;
  /** Why it could not be read; null: nothing went wrong. */
  readonly wrong: string | null;
}

const BEGUN: Reading = { brought: null, share: 0, secondsLeft: null, wrong: null };
/** Less tells nothing of how long the rest takes. */
const LEAST_SHARE = 0.05;
const LEAST_MS = 500;

export function useBrought(file: File, { name, zone, isTurned = false }: AboutBrought): Reading {
  const [reading, setReading] = useState(BEGUN);
  const worker = useRef<Worker | null>(null);
  const nth = useRef(0);
  useEffect(() => {
    const asked = ++nth.current;
    const begun = performance.now();
    worker.current ??= new Worker(new URL('./bringing.worker.ts', import.meta.url), { type: 'module' });
    const { current } = worker;
    const hear = ({ data }: MessageEvent<BroughtTold>) => {
      if (data.nth !== asked) return;
      setReading((before) => readingAfter(before, data, file.name, performance.now() - begun));
    };
    const fail = () =>
      setReading((before) => ({ ...before, share: null, wrong: failedWords(file.name, 'it broke off') }));
    current.addEventListener('message', hear);
    current.addEventListener('error', fail);
    setReading((before) => ({ ...before, share: 0, secondsLeft: null, wrong: null }));
    current.postMessage({ file, about: { name, zone, isTurned }, nth: asked } satisfies BroughtAsked);
    return () => {
      current.removeEventListener('message', hear);
      current.removeEventListener('error', fail);
    };
  }, [file, name, zone, isTurned]);
  useEffect(
    () => () => {
      worker.current?.terminate();
      worker.current = null;
    },
    [],
  );
  return reading;
}

export function readingAfter(before: Reading, told: BroughtTold, file: string, ms: number): Reading {
  switch (told.kind) {
    case 'share':
      return { ...before, share: told.share, secondsLeft: secondsLeftOf(told.share, ms) };
    case 'read':
      return { brought: told.brought, share: null, secondsLeft: null, wrong: null };
    case 'failed':
      return { ...before, share: null, secondsLeft: null, wrong: failedWords(file, told.why) };
  }
}

const secondsLeftOf = (share: number, ms: number): number | null =>
  share < LEAST_SHARE || ms < LEAST_MS ? null : ((ms / 1000) * (1 - share)) / share;

const failedWords = (file: string, why: string): string => `${file} cannot be read: ${why}. Choose it again.`;
