/** What each group is made of: its colours, and who will be hard to tell apart. A guess, all of it. */
import type { PaletteColourView, PaletteView } from '../../server/lunch/types.js';
import { GroupLetter } from '../marks/Marks.js';
import { RiderRow } from '../sheets/RiderTile.js';

export function PalettePart({ palette }: { readonly palette: readonly PaletteView[] }) {
  if (palette.length === 0) return null;
  return (
    <section className="part palette-part">
      <h2>
        Colours of the field <span className="aside">from each group’s first session; a guess</span>
      </h2>
      <div className="palette-groups">
        {palette.map((one) => (
          <Group key={one.group?.key ?? '-'} palette={one} />
        ))}
      </div>
    </section>
  );
}

function Group({
  palette: { group, sessions, riders, bikes, leathers, alike, sameWords },
}: {
  readonly palette: PaletteView;
}) {
  return (
    <div>
      <h3>
        {group && <GroupLetter group={group} />} {group?.name ?? 'Group not known'}{' '}
        <span>
          {sessions.join(', ')}, {riders} {riders === 1 ? 'rider' : 'riders'}
        </span>
      </h3>
      <Colours title="Bikes" colours={bikes} />
      <Colours title="Leathers" colours={leathers} />
      {alike.length === 0 ? (
        <p className="note">No two riders look so alike that their pictures could not be told apart.</p>
      ) : (
        alike.map((together) => (
          <div key={together[0]?.key} className="alike-set">
            <p className="note">Hard to tell apart; a number or a helmet in the frame settles it:</p>
            <ul className="rider-rows">
              {together.map((rider) => (
                <RiderRow key={rider.key} rider={rider} />
              ))}
            </ul>
          </div>
        ))
      )}
      {sameWords.map((sentence) => (
        <p key={sentence} className="note">
          {sentence}
        </p>
      ))}
    </div>
  );
}

const MOST_COLOURS = 6;
const percent = (share: number): number => Math.round(100 * share);

function Colours({ title, colours }: { readonly title: string; readonly colours: readonly PaletteColourView[] }) {
  if (colours.length === 0) return <p className="note">{title}: no colour is measured yet.</p>;
  const shown = colours.slice(0, MOST_COLOURS);
  const most = Math.max(...shown.map(({ to }) => to));
  return (
    <table className="field-colours">
      <caption>{title}</caption>
      <tbody>
        {shown.map((colour) => (
          <tr key={colour.name}>
            <th scope="row">
              <i style={{ background: colour.css }} aria-hidden="true" /> {colour.name}
            </th>
            <td className="figure">{colour.riders}</td>
            <td className="share">
              <span className="pencil-words">
                {percent(colour.from)}–{percent(colour.to)} %
              </span>
              <svg width="100%" height="8" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
                <path className="range" d={`M${(100 * colour.from) / most} 4H${(100 * colour.to) / most}`} />
                <path className="middle" d={`M${(100 * colour.share) / most} 0V8`} />
              </svg>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
