/** All that a person says of a spot. What is not said is worked out from the drawing, and shown as that. */
import { type SpotWords, saySpot } from '../../../core/plan/circuit/edit/spots.js';
import { viewOf } from '../../../core/plan/circuit/spotView.js';
import type { Aspect, BikeSide, Circuit, CircuitSpot, Moment } from '../../../core/plan/circuit/types.js';
import { degreesOf, metresOf } from '../../../core/units.js';
import type { CircuitHand } from './circuitHand.js';
import { ASPECT_WORDS, viewWords } from './circuitWords.js';
import { ChoiceWord, NumberWord, TextWord } from './WordFields.js';

interface SpotFieldsProps {
  readonly circuit: Circuit;
  readonly spot: CircuitSpot;
  readonly hand: CircuitHand;
}

const DRAWN = 'drawn';
type Drawn<T extends string> = T | typeof DRAWN;
const UNSAID = 'unsaid';
type Answer = 'yes' | 'no' | typeof UNSAID;
const ANSWERS = [
  [UNSAID, 'not said'],
  ['yes', 'yes'],
  ['no', 'no'],
] as const;
const answerOf = (is: boolean | undefined): Answer => (is === undefined ? UNSAID : is ? 'yes' : 'no');

const MOMENTS: readonly Moment[] = ['entry', 'apex', 'exit', 'straight'];

export function SpotFields({ circuit, spot, hand }: SpotFieldsProps) {
  const { id: _, number, place: __, ...words } = spot;
  const say = (change: { readonly [K in keyof SpotWords]?: SpotWords[K] | undefined }) => {
    const said = Object.fromEntries(Object.entries({ ...words, ...change }).filter(([, value]) => value !== undefined));
    hand.change(saySpot(circuit, spot.id, said as unknown as SpotWords), `What is said of spot ${number} ${spot.name}`);
  };
  const [shortest, longest] = spot.focalMm ?? [];
  return (
    <>
      <p className="printed">{viewWords(viewOf(circuit, spot))}</p>
      <div className="word-fields">
        <TextWord label="Its name" value={spot.name} put={(name) => say({ name })} wrongOf={someName} />
        <NumberWord
          label="Looks towards, from north clockwise"
          value={spot.viewAzimuthDeg}
          from={0}
          to={360}
          unit="°"
          isNeeded
          put={(deg = 0) => say({ viewAzimuthDeg: degreesOf(deg % 360) })}
        />
        <NumberWord
          label="Camera above the track"
          value={spot.heightM}
          from={-50}
          to={200}
          unit="m"
          put={(heightM) => say({ heightM: heightM === undefined ? undefined : metresOf(heightM) })}
        />
        <NumberWord
          label="To the bikes"
          value={spot.distanceM}
          from={0}
          to={1000}
          unit="m"
          put={(distanceM) => say({ distanceM: distanceM === undefined ? undefined : metresOf(distanceM) })}
        />
        <ChoiceWord<Drawn<BikeSide | 'both'>>
          label="Side of the bike that is seen"
          value={spot.sideSeen ?? DRAWN}
          choices={[
            [DRAWN, 'as drawn'],
            ['left', 'left'],
            ['right', 'right'],
            ['both', 'both'],
          ]}
          put={(side) => say({ sideSeen: side === DRAWN ? undefined : side })}
        />
        <ChoiceWord<Drawn<Aspect>>
          label="How the bike is turned"
          value={spot.aspect ?? DRAWN}
          choices={[[DRAWN, 'as drawn'], ...(Object.entries(ASPECT_WORDS) as [Aspect, string][])]}
          put={(aspect) => say({ aspect: aspect === DRAWN ? undefined : aspect })}
        />
        <ChoiceWord<Answer>
          label="Wants a permit"
          value={answerOf(spot.needsPermit)}
          choices={ANSWERS}
          put={(answer) => say({ needsPermit: answer === UNSAID ? undefined : answer === 'yes' })}
        />
        <ChoiceWord<Answer>
          label="Has shade"
          value={answerOf(spot.hasShade)}
          choices={ANSWERS}
          put={(answer) => say({ hasShade: answer === UNSAID ? undefined : answer === 'yes' })}
        />
        <TextWord
          label="Lenses that frame a bike, shortest to longest in mm"
          value={shortest === undefined ? '' : `${shortest}–${longest}`}
          placeholder="100–400"
          size={10}
          wrongOf={(text) => (text === '' || lensesOf(text) !== null ? null : LENSES_WRONG(text))}
          put={(text) => say({ focalMm: lensesOf(text) ?? undefined })}
        />
        <TextWord
          label="What to mind here"
          value={spot.caution ?? ''}
          put={(caution) => say({ caution: caution === '' ? undefined : caution })}
        />
      </div>
      <MomentBoxes spot={spot} put={(moments) => say({ moments })} />
    </>
  );
}

interface MomentBoxesProps {
  readonly spot: CircuitSpot;
  readonly put: (moments: readonly Moment[] | undefined) => void;
}

/** None ticked: as drawn. */
function MomentBoxes({ spot, put }: MomentBoxesProps) {
  const said = spot.moments ?? [];
  const turn = (moment: Moment) => {
    const next = MOMENTS.filter((one) => (one === moment) !== said.includes(one));
    put(next.length === 0 ? undefined : next);
  };
  return (
    <fieldset className="moments">
      <legend>What can be had here; none ticked is as drawn</legend>
      {MOMENTS.map((moment) => (
        <label key={moment}>
          <input type="checkbox" checked={said.includes(moment)} onChange={() => turn(moment)} /> {moment}
        </label>
      ))}
    </fieldset>
  );
}

const someName = (text: string): string | null =>
  text === '' ? 'Expected a name, but it is empty; the old one stays.' : null;

const LENSES_WRONG = (text: string): string =>
  `Expected two lengths in mm, the shorter first, such as 100–400, but found “${text}”; what stood there stays.`;

function lensesOf(text: string): readonly [number, number] | null {
  const [shortest, longest, ...more] = text.split(/[^\d.]+/).map(Number);
  if (shortest === undefined || longest === undefined || more.length > 0) return null;
  return shortest > 0 && shortest <= longest && longest <= 3000 ? [shortest, longest] : null;
}
