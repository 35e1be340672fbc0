/** What was tapped beside the track comes back: by the phone's code before the laptop's camera, or as the file it saved. */
import { useEffect, useRef, useState } from 'react';
import type { TapsView, TapView } from '../../../server/pocketTypes.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { Initialled } from '../../marks/Voices.js';
import { ask, takeBack } from '../../stores/said.js';
import type { Looking } from './camera.js';
import { pocketDesk } from './pocketApi.js';

const WORDS = SHEET_WORDS.before;
const sentenceOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

interface Heard {
  readonly text: string;
  readonly view: TapsView;
}

export function TapsPart() {
  const [heard, setHeard] = useState<Heard | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const hear = (text: string) =>
    pocketDesk.taps(text).then(
      (view) => {
        setHeard({ text, view });
        setTrouble(null);
      },
      (error: unknown) => {
        setHeard(null);
        setTrouble(sentenceOf(error));
      },
    );
  return (
    <section className="part ask taps">
      <h2>Back from the phone</h2>
      <p className="note">
        On the phone, “Hand back” shows what was tapped as a code. The camera is looked through only while its picture
        stands here; nothing of it is kept.
      </p>
      <Camera hear={hear} complain={setTrouble} />
      <p className="note">
        <label htmlFor="taps-file">Or the file that the phone saved:</label>{' '}
        <input
          id="taps-file"
          type="file"
          accept=".txt,text/plain"
          onChange={(event) => {
            void event.target.files?.[0]?.text().then(hear, (error: unknown) => setTrouble(sentenceOf(error)));
            event.target.value = '';
          }}
        />
      </p>
      {trouble !== null && (
        <p className="wrongs" role="alert">
          {trouble}
        </p>
      )}
      {heard !== null && <Taps heard={heard} setHeard={setHeard} />}
    </section>
  );
}

interface CameraProps {
  readonly hear: (text: string) => Promise<void>;
  readonly complain: (trouble: string | null) => void;
}

function Camera({ hear, complain }: CameraProps) {
  const [looking, setLooking] = useState<Looking | null>(null);
  const video = useRef<HTMLVideoElement>(null);
  useEffect(() => {
    if (video.current) video.current.srcObject = looking?.stream ?? null;
    return () => looking?.stop();
  }, [looking]);
  const open = async () => {
    complain(null);
    try {
      // The reader is a megabyte: it comes when it is wanted.
      const { lookThroughCamera } = await import('./camera.js');
      const now = await lookThroughCamera();
      setLooking(now);
      await hear(await now.read);
    } catch (error) {
      complain(sentenceOf(error));
    }
    setLooking(null);
  };
  if (looking === null)
    return (
      <Act
        words={WORDS.bringBack}
        run={() => void open()}
        consequence="Looks through this laptop’s camera; the browser asks you first."
      />
    );
  return (
    <>
      <video ref={video} className="camera" autoPlay muted playsInline aria-label="What the camera sees" />
      <Act
        words={WORDS.haltCamera}
        run={() => setLooking(null)}
        consequence="Hold the phone’s code before the camera."
      />
    </>
  );
}

const STANDS: Readonly<Record<TapView['is'], string>> = {
  new: '',
  said: 'said already',
  'taken-back': 'taken back here; it stays so',
};

function Taps({
  heard: { text, view },
  setHeard,
}: {
  readonly heard: Heard;
  readonly setHeard: (heard: Heard) => void;
}) {
  const fresh = view.taps.filter(({ is }) => is === 'new').length;
  const sayThem = () =>
    void ask(`${fresh} ${fresh === 1 ? 'tap is' : 'taps are'} said.`, async () =>
      setHeard({ text, view: await pocketDesk.sayTaps(text) }),
    );
  const back = (tap: TapView) =>
    void takeBack(tap.gesture).then(async () => setHeard({ text, view: await pocketDesk.taps(text) }));
  return (
    <>
      <ul className="rows">
        {view.taps.map((tap) => (
          <li key={tap.gesture}>
            {tap.is === 'said' ? <Initialled text={tap.text} initials="phone" /> : tap.text}
            {STANDS[tap.is] !== '' && <span className="note"> {STANDS[tap.is]}</span>}
            {tap.is === 'said' && (
              <button type="button" className="word" onClick={() => back(tap)} aria-label={`Take back: ${tap.text}`}>
                Take back
              </button>
            )}
            {tap.follows.map((sentence) => (
              <p className="note" key={sentence}>
                {sentence}
              </p>
            ))}
          </li>
        ))}
      </ul>
      {view.notes.map((note) => (
        <p key={note} className="note">
          {note}
        </p>
      ))}
      <Act
        words={WORDS.sayTaps}
        kind="main"
        run={sayThem}
        isOff={fresh === 0}
        why={view.taps.length === 0 ? 'Nothing was tapped.' : 'All of it was said before.'}
        consequence={`${fresh} new; each can be taken back by itself.`}
      />
    </>
  );
}
