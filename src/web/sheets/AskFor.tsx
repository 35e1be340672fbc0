/** What a rider says of themselves at the van: colours, number, group, about what time. */
import { useRef } from 'react';
import type { DayView, RidersView } from '../../server/types.js';
import { useLetter } from '../keys/keyboard.js';
import { keyOf, SHEET_WORDS } from '../keys/sheetKeys.js';
import { GroupLetter } from '../marks/Marks.js';
import { aboutTrouble, type Wish, wished, withColour } from '../stores/findRiders.js';

const WORDS = SHEET_WORDS.riders;

export interface AskForProps {
  readonly view: RidersView;
  readonly day: DayView;
  readonly wish: Wish;
}

export function AskFor({ view, day, wish }: AskForProps) {
  const trouble = aboutTrouble(wish.about);
  const beside = new Set(view.colours.flatMap((one) => (wish.colours.includes(one.name) ? one.neighbours : [])));
  const set = (change: Partial<Wish>) => wished.set({ ...wish, ...change });
  return (
    <search className="ask-for" aria-label="Find a rider">
      <fieldset className="colours">
        <legend>On the bike or the rider</legend>
        {view.colours.map((colour) => {
          const isOn = wish.colours.includes(colour.name);
          const isBeside = !isOn && beside.has(colour.name);
          return (
            <button
              key={colour.name}
              type="button"
              className={`colour${isBeside ? ' beside' : ''}`}
              aria-pressed={isOn}
              onClick={() => wished.set(withColour(wish, colour.name))}
            >
              <i style={{ background: colour.css }} aria-hidden="true" />
              {colour.name}
            </button>
          );
        })}
      </fieldset>
      <Field words={WORDS.number} value={wish.number} set={(number) => set({ number: number.replace(/\D/g, '') })} />
      <Field words={WORDS.about} value={wish.about} set={(about) => set({ about })} isTime />
      {trouble !== null && (
        <p className="not-asked" role="status">
          {trouble}
        </p>
      )}
      {day.groupKeys.length > 1 && (
        <fieldset className="group-choice">
          <legend>Group</legend>
          {day.groupKeys.map((group) => (
            <button
              key={group.key}
              type="button"
              className="colour"
              aria-pressed={wish.group === group.key}
              onClick={() => set({ group: wish.group === group.key ? null : group.key })}
            >
              <GroupLetter group={group} /> {group.name}
            </button>
          ))}
        </fieldset>
      )}
    </search>
  );
}

interface FieldProps {
  readonly words: string;
  readonly value: string;
  readonly set: (text: string) => void;
  readonly isTime?: boolean;
}

/** A field whose letter puts the hand into it; Enter and Escape take it out again. */
function Field({ words, value, set, isTime = false }: FieldProps) {
  const input = useRef<HTMLInputElement>(null);
  const letter = keyOf(words);
  useLetter(letter, () => input.current?.focus());
  return (
    <label className="field">
      <span>
        <u>{words.charAt(0)}</u>
        {words.slice(1)}
      </span>
      <input
        ref={input}
        inputMode="numeric"
        maxLength={isTime ? 5 : 4}
        placeholder={isTime ? '10:10' : undefined}
        value={value}
        aria-keyshortcuts={letter}
        autoComplete="off"
        onChange={(event) => set(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === 'Enter' || event.key === 'Escape') input.current?.blur();
        }}
      />
    </label>
  );
}
