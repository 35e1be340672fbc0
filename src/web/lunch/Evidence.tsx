/** Frames that show what is said, one step away. */
import { useId, useState } from 'react';
import type { PictureView } from '../../server/types.js';
import { Picture } from '../marks/Marks.js';

export function Evidence({ pictures, of }: { readonly pictures: readonly PictureView[]; readonly of: string }) {
  const [isOpen, setOpen] = useState(false);
  const id = useId();
  if (pictures.length === 0) return null;
  const words = isOpen ? 'fold them' : pictures.length === 1 ? 'show one' : `show ${pictures.length}`;
  return (
    <>
      <button
        type="button"
        className="word not-on-paper"
        aria-expanded={isOpen}
        aria-controls={id}
        aria-label={`${words}: ${of}`}
        onClick={() => setOpen(!isOpen)}
      >
        {words}
      </button>
      <span id={id} className="evidence" hidden={!isOpen}>
        {isOpen && pictures.map((picture) => <Picture key={picture.frameId} picture={picture} alt="" />)}
      </span>
    </>
  );
}
