/** How many shall be kept: of a rider, at a spot, in all; and how few are too few. A person's word, for the whole meeting. */
import { useState } from 'react';
import type { ChooseRules } from '../../core/choose/types.js';
import type { ChoosingView } from '../../server/choosing/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { sayNow } from '../stores/said.js';

const FIELDS = [
  ['mostPerRider', 'most of a rider'],
  ['mostPerSpot', 'most at a spot'],
  ['mostInAll', 'most in all'],
  ['leastPerRider', 'too few below'],
] as const satisfies readonly (readonly [keyof ChooseRules, string])[];

type Texts = Readonly<Record<keyof ChooseRules, string>>;

const textsOf = (rules: ChooseRules): Texts => ({
  mostPerRider: String(rules.mostPerRider),
  mostPerSpot: String(rules.mostPerSpot),
  mostInAll: rules.mostInAll === null ? '' : String(rules.mostInAll),
  leastPerRider: String(rules.leastPerRider),
});

export function QuotaPart({ choosing: { rules } }: { readonly choosing: ChoosingView }) {
  const [texts, setTexts] = useState<Texts | null>(null);
  const shown = texts ?? textsOf(rules);
  const say = () => {
    const figures = Object.fromEntries(
      FIELDS.flatMap(([name]) => (shown[name].trim() === '' ? [] : [[name, Number(shown[name])]])),
    );
    sayNow('How many shall be kept', [{ kind: 'choose-rules', ...figures }]);
    setTexts(null);
  };
  return (
    <details className="quotas">
      <summary>
        At most {rules.mostPerRider} of a rider and {rules.mostPerSpot} at a spot
        {rules.mostInAll !== null && `, ${rules.mostInAll.toLocaleString('en-GB')} in all`}
      </summary>
      {FIELDS.map(([name, words]) => (
        <label key={name}>
          <input
            type="number"
            min={name === 'leastPerRider' ? 0 : 1}
            placeholder="no limit"
            value={shown[name]}
            onChange={(event) => setTexts({ ...shown, [name]: event.target.value })}
          />{' '}
          {words}
        </label>
      ))}
      <div className="acts">
        <Act words={SHEET_WORDS.choosing.quotas} run={say} isOff={texts === null} why="As they are." />
      </div>
    </details>
  );
}
