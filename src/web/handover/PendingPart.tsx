/** Takedowns: what the newest one came to, and where something taken down is still shown. */
import type { HandoverView } from '../../server/handover/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { ask } from '../stores/said.js';
import { handoverDesk } from './handoverDesk.js';

export function PendingPart({ pending, law }: Pick<HandoverView, 'pending' | 'law'>) {
  if (pending.length === 0 && law.state === 'idle') return null;
  return (
    <section className="part pending-part">
      <h2>Taken down</h2>
      <LawDone law={law} />
      {pending.length > 0 && (
        <>
          <p className="urgent">Pending, and still to be seen there:</p>
          <ul className="rows sentences">
            {pending.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
          {law.state !== 'running' && (
            <div className="acts">
              <Act
                words={SHEET_WORDS.handOver.again}
                run={() => void ask('What is pending is tried again.', handoverDesk.again)}
                consequence="Every place that could not let go is asked once more."
              />
            </div>
          )}
        </>
      )}
    </section>
  );
}

export function LawDone({ law }: Pick<HandoverView, 'law'>) {
  if (law.state === 'idle') return null;
  if (law.state === 'running')
    return (
      <p className="sub" role="status">
        Being carried out.
      </p>
    );
  return <p className={law.state === 'failed' ? 'urgent lines' : 'note lines'}>{law.sentence}</p>;
}
