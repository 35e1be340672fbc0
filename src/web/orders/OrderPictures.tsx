/** The pictures of an order; another rider's are marked here before their money goes back. */
import type { OrderPictureView } from '../../server/orders/types.js';
import { Picture } from '../marks/Marks.js';

interface PicturesProps {
  readonly pictures: readonly OrderPictureView[];
  readonly marked: ReadonlySet<string>;
  readonly mark: (id: string) => void;
}

export function OrderPictures({ pictures, marked, mark }: PicturesProps) {
  return (
    <ul className="tiles order-pictures" aria-label="Pictures of the order">
      {pictures.map(({ id, picture, isOut }, n) => {
        const shown = picture ? <Picture picture={picture} alt="" /> : <span className="absent">not here</span>;
        const words = `Picture ${n + 1}`;
        return (
          <li key={id} className={isOut ? 'out' : undefined}>
            {isOut ? (
              <>
                {shown}
                <span className="note">{words}: out of the order</span>
              </>
            ) : (
              <button type="button" aria-pressed={marked.has(id)} onClick={() => mark(id)}>
                {shown}
                <span className="note">
                  {words}
                  {marked.has(id) && <b>: another rider’s</b>}
                </span>
              </button>
            )}
          </li>
        );
      })}
    </ul>
  );
}
