/** Fields whose words are said when one leaves them; a slip is named and what stood there stays. */
import { type ReactNode, useId, useState } from 'react';

interface TextWordProps {
  readonly label: string;
  readonly value: string;
  readonly put: (text: string) => void;
  readonly placeholder?: string;
  readonly size?: number;
  /** Why it cannot stand; null: it can. */
  readonly wrongOf?: (text: string) => string | null;
}

export function TextWord({ label, value, put, placeholder, size = 24, wrongOf }: TextWordProps) {
  const id = useId();
  const [text, setText] = useState(value);
  const [follows, setFollows] = useState(value);
  const [wrong, setWrong] = useState<string | null>(null);
  if (follows !== value) {
    setFollows(value);
    setText(value);
    setWrong(null);
  }
  const leave = () => {
    if (text.trim() === value) return setText(value);
    const why = wrongOf?.(text.trim()) ?? null;
    setWrong(why);
    if (why === null) put(text.trim());
    else setText(value);
  };
  return (
    <p className="word-field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        value={text}
        size={size}
        spellCheck={false}
        placeholder={placeholder}
        onChange={(event) => setText(event.target.value)}
        onBlur={leave}
      />
      {wrong !== null && (
        <span className="trouble" role="alert">
          {wrong}
        </span>
      )}
    </p>
  );
}

interface NumberWordProps {
  readonly label: string;
  readonly value: number | undefined;
  readonly from: number;
  readonly to: number;
  readonly unit: string;
  readonly put: (value: number | undefined) => void;
  /** Of a number that must be there. */
  readonly isNeeded?: boolean;
}

export function NumberWord({ label, value, from, to, unit, put, isNeeded = false }: NumberWordProps) {
  const read = (text: string): number => (text === '' ? Number.NaN : Number(text.replace(',', '.')));
  const wrongOf = (text: string): string | null => {
    if (text === '' && !isNeeded) return null;
    const number = read(text);
    return number >= from && number <= to
      ? null
      : `Expected ${from} to ${to} ${unit}, but found “${text}”; what stood there stays.`;
  };
  return (
    <TextWord
      label={`${label}, ${unit}`}
      value={value === undefined ? '' : String(Math.round(value * 100) / 100)}
      put={(text) => put(text === '' ? undefined : read(text))}
      placeholder="not said"
      size={8}
      wrongOf={wrongOf}
    />
  );
}

interface ChoiceWordProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly choices: readonly (readonly [T, string])[];
  readonly put: (value: T) => void;
  readonly children?: ReactNode;
}

export function ChoiceWord<T extends string>({ label, value, choices, put }: ChoiceWordProps<T>) {
  const id = useId();
  return (
    <p className="word-field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => put(event.target.value as T)}>
        {choices.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </p>
  );
}
