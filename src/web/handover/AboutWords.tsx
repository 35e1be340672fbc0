/** How much is meant and how far a takedown reaches, before anything is said. */
import type { AboutView } from '../../server/handover/types.js';

export function AboutWords({
  about,
  isDown = false,
}: {
  readonly about: AboutView | undefined;
  readonly isDown?: boolean;
}) {
  if (about === undefined) return null;
  const others = about.shared === 0 ? '' : `, ${about.shared.toLocaleString('en-GB')} of them with another rider in it`;
  return (
    <>
      <p className="sub">
        {about.frames.toLocaleString('en-GB')} {about.frames === 1 ? 'frame' : 'frames'}
        {others}.
      </p>
      {isDown && about.reaches.length > 0 && (
        <p className="note">
          It leaves at once: {about.reaches.join('; ')}. What cannot be reached stays pending on the gallery’s sheet,
          and a proof is written.
        </p>
      )}
    </>
  );
}
