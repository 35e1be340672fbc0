/** Printed, pencilled, initialled: a measurement, a guess and a person's word never look the same. */
import { type ReactNode, useId, useState } from 'react';
import { outOf100 } from '../../core/units.js';
import type { Spoken } from '../../server/types.js';

/** How sure, on a scale of 0 to 100, with its figure. */
export function Gauge({ confidence }: { readonly confidence: number }) {
  const percent = outOf100(confidence);
  return (
    <span className="gauge">
      <svg width="30" height="9" viewBox="0 0 30 9" aria-hidden="true">
        <path d="M.5 2v5M15 3v3M29.5 2v5M0 4.5H30" />
        <circle cx={3 + (percent / 100) * 24} cy="4.5" r="2.6" />
      </svg>
      <span className="sr">, sure to </span>
      <span className="figure">{percent}</span>
      <span className="sr"> of 100</span>
    </span>
  );
}

/** How alike two look, by eye: a length without a figure, for it orders and is no chance. */
export function AlikeMark({ alike }: { readonly alike: number }) {
  const length = 2 + 28 * Math.min(1, Math.max(0, alike));
  return (
    <svg className="alike-mark" width="30" height="9" viewBox="0 0 30 9" aria-hidden="true">
      <path d={`M0 6h${length.toFixed(1)}`} />
    </svg>
  );
}

/** A guess, with its reasons one step away. */
export function Pencilled({
  text,
  confidence,
  reasons,
}: {
  readonly text: ReactNode;
  readonly confidence: number;
  readonly reasons: readonly string[];
}) {
  const [isOpen, setOpen] = useState(false);
  const id = useId();
  const inner = (
    <>
      {text} <Gauge confidence={confidence} />
    </>
  );
  if (reasons.length === 0) return <span className="pencilled">{inner}</span>;
  return (
    <span className="pencilled-why">
      <button
        type="button"
        className="pencilled"
        aria-expanded={isOpen}
        aria-controls={id}
        onClick={() => setOpen(!isOpen)}
      >
        {inner}
      </button>
      <span id={id} className="reasons" hidden={!isOpen}>
        {reasons.map((reason) => (
          <span key={reason}>{reason}</span>
        ))}
      </span>
    </span>
  );
}

export function Initialled({ text, initials }: { readonly text: ReactNode; readonly initials: string }) {
  return (
    <span className="initialled">
      <span className="said-word">{text}</span>
      <span className="initials">
        <span className="sr">said by </span>
        {initials}
      </span>
    </span>
  );
}

/** Not known, in words; never a nought or a dash. */
export function Absent({ children }: { readonly children: ReactNode }) {
  return <span className="absent">{children}</span>;
}

export const Sentences = ({ of }: { readonly of: readonly Spoken[] }) =>
  of.map((spoken, i) => (
    <span key={spoken.text}>
      {i > 0 && ' '}
      <Voice spoken={spoken} />
    </span>
  ));

export function Voice({ spoken }: { readonly spoken: Spoken }) {
  switch (spoken.voice) {
    case 'printed':
      return <span className="printed">{spoken.text}</span>;
    case 'pencilled':
      return <Pencilled text={spoken.text} confidence={spoken.confidence} reasons={spoken.reasons} />;
    case 'initialled':
      return <Initialled text={spoken.text} initials={spoken.initials} />;
  }
}
