/** Looking after the photographer, and the cautions at their spots. What nobody measured is pencilled. */
import { noiseBySpot } from '../../core/plan/care/noiseBySpot.js';
import type { CareOfDay, Caution, NoiseOfDay, Span } from '../../core/plan/care/types.js';
import { clockOf } from '../line/lineGeometry.js';

export function CarePart({ care, date }: { readonly care: CareOfDay; readonly date: string }) {
  const ofDay = care.cautions.filter(({ spot }) => spot === null);
  return (
    <section className="part care">
      <h2>
        Looking after yourself <span className="aside">{date}</span>
      </h2>
      <NoiseWords noise={care.noise} />
      {sentencesOf(care).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <h3>Cautions</h3>
      <ul className="rows">
        {ofDay.map(({ sentence }) => (
          <li key={sentence}>{sentence}</li>
        ))}
        {bySpot(care.cautions).map(([spot, words]) => (
          <li key={spot}>
            <b>{spot}</b> {words}
          </li>
        ))}
      </ul>
    </section>
  );
}

function bySpot(cautions: readonly Caution[]): readonly (readonly [spot: string, words: string])[] {
  const words = new Map<string, string>();
  for (const { spot, sentence } of cautions) {
    if (spot === null) continue;
    const name = `${spot.number} ${spot.name}`;
    words.set(name, `${words.get(name) ?? ''} ${sentence}`.trim());
  }
  return [...words];
}

const sentencesOf = ({ heat, drinking, uv, body }: CareOfDay): readonly string[] => [
  ...(heat.kind === 'not-said' ? [heat.sentence] : heat.sentences),
  ...(drinking === null ? [] : [drinking.sentence]),
  uv.sentence,
  ...body,
];

function NoiseWords({ noise }: { readonly noise: NoiseOfDay }) {
  if (noise.kind === 'no-stays') return <p>{noise.sentence}</p>;
  const { stays, bareFullAt, minutesLeft } = noise;
  return (
    <>
      {noise.sentences.map((sentence) => (
        <p key={sentence} className="guessed">
          {sentence}
        </p>
      ))}
      {bareFullAt !== null && (
        <p className="guessed">Unprotected, the day’s share is full at about {clockOf(bareFullAt)}.</p>
      )}
      <p className="guessed">
        {minutesLeft.likely < 1
          ? 'No time at such a spot is left after this plan.'
          : `After this plan ${timeOf(minutesLeft)} more at its loudest spot would fill the day.`}
      </p>
      <table className="noise">
        <caption className="sr">Noise spot by spot, without and with the protector</caption>
        <thead>
          <tr>
            <th scope="col">Spot</th>
            <th scope="col">min</th>
            <th scope="col">dB</th>
            <th scope="col">at the ear</th>
            <th scope="col">of a day’s dose</th>
          </tr>
        </thead>
        <tbody>
          {noiseBySpot(stays).map(({ spot, minutes, bareDb, atEarDb, barePercent }) => (
            <tr key={spot.id}>
              <th scope="row">
                {spot.number} {spot.name}
              </th>
              <td>{Math.round(minutes)}</td>
              <td className="guessed">{inWords(bareDb)}</td>
              <td className="guessed">{atEarDb === null ? 'not said' : inWords(atEarDb)}</td>
              <td className="guessed">{inWords(barePercent, ' %')}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <details>
        <summary>What this rests on</summary>
        <ul className="note">
          {noise.basis.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </details>
    </>
  );
}

const whole = (value: number): string => Math.round(value).toLocaleString('en-GB');
const inWords = ({ low, likely, high }: Span, unit = ''): string =>
  `${whole(likely)}${unit} (${whole(low)}–${whole(high)})`;

/** More than a day is no figure anyone needs. */
function timeOf({ low, likely }: Span): string {
  const words = (minutes: number) =>
    minutes >= 600 ? 'ten hours and more' : minutes < 90 ? `${whole(minutes)} min` : `${whole(minutes / 60)} h`;
  return words(low) === words(likely) ? words(likely) : `${words(likely)} (perhaps only ${words(low)})`;
}
