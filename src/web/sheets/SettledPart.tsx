/** A sheet that somebody looked through: right as it is. It is said again where frames have joined since. */
import { v7 as uuidv7 } from 'uuid';
import type { RiderId } from '../../core/ids.js';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Initialled } from '../marks/Voices.js';
import { settleDecisions } from '../stores/riderSheet.js';
import { say } from '../stores/said.js';

export function SettleAct({ view }: { readonly view: RiderView }) {
  const isSaid = view.settled !== null && view.settled.joined === 0;
  if (isSaid) return null;
  const sayIt = () => {
    const decisions = settleDecisions(view, uuidv7() as RiderId);
    if (decisions) void say(`The sheet of ${view.rider.code} is right`, decisions);
  };
  return <Act words={SHEET_WORDS.rider.settle} run={sayIt} />;
}

export function Settled({ view: { settled, initials } }: { readonly view: RiderView }) {
  if (settled === null) return null;
  return (
    <p className="note">
      <Initialled
        text={`settled with ${settled.frames} ${settled.frames === 1 ? 'frame' : 'frames'}`}
        initials={initials}
      />
      {settled.joined > 0 && `, ${settled.joined} joined since`}: frames may join, none leaves without a question.
    </p>
  );
}
