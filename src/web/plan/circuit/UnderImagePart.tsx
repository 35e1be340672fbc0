/** Laying a map image under the drawing: two places are shown, each in the image and on the map. */
import { type MouseEvent, useRef, useState } from 'react';
import type { Sheet } from '../../../core/plan/circuit/draw/drawCircuit.js';
import { sheetOf } from '../../../core/plan/circuit/draw/drawCircuit.js';
import { layImage, type Pin } from '../../../core/plan/circuit/draw/underlay.js';
import { sayPlace } from '../../../core/plan/circuit/placeWords.js';
import type { Circuit, Place } from '../../../core/plan/circuit/types.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import type { HalfPin, KeptImage, UnderImageStore } from './underImages.js';
import { NumberWord } from './WordFields.js';

const WORDS = SHEET_WORDS.circuit;
const isSet = (pin: HalfPin): pin is Pin => pin.place !== null;

const laidOf = ({ pins: [first, second] }: KeptImage, sheet: Sheet) =>
  isSet(first) && isSet(second) ? layImage(first, second, sheet) : null;

export function UnderImage({ image, sheet }: { readonly image: KeptImage | null; readonly sheet: Sheet }) {
  const laid = image === null ? null : laidOf(image, sheet);
  if (image === null || laid === null) return null;
  return (
    <image
      className="under-image"
      href={image.source}
      width={image.width}
      height={image.height}
      transform={`matrix(${laid.matrix.join(' ')})`}
    />
  );
}

interface UnderImagePartProps {
  readonly under: UnderImageStore;
  readonly circuit: Circuit;
  readonly cross: Place;
}

export function UnderImagePart({ under, circuit, cross }: UnderImagePartProps) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <section className="part ask">
      <h2>A map image under it</h2>
      <p className="note">It stays in this browser and goes into no file. Mind who may use the image you choose.</p>
      <Act words={WORDS.image} run={() => input.current?.click()} />
      <input
        ref={input}
        className="sr"
        tabIndex={-1}
        aria-label="A map image"
        type="file"
        accept="image/*"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) under.take(file);
          event.target.value = '';
        }}
      />
      {under.wrong !== null && (
        <p className="trouble" role="alert">
          {under.wrong}
        </p>
      )}
      {under.image !== null && <Pins image={under.image} under={under} circuit={circuit} cross={cross} />}
    </section>
  );
}

function Pins({ image, under, circuit, cross }: UnderImagePartProps & { readonly image: KeptImage }) {
  const [at, setAt] = useState<0 | 1>(0);
  const put = (which: 0 | 1, change: Partial<HalfPin>) => {
    const pins = image.pins.map((pin, i) => (i === which ? { ...pin, ...change } : pin));
    under.keep({ ...image, pins: pins as unknown as KeptImage['pins'] });
  };
  const tap = (event: MouseEvent<HTMLElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const scale = image.width / box.width;
    put(at, {
      x: Math.round((event.clientX - box.left) * scale),
      y: Math.round((event.clientY - box.top) * scale),
    });
  };
  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the fields below say the same by keys */}
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the fields below say the same by keys */}
      <div className="pinned" onClick={tap}>
        <img src={image.source} alt="The map to lie under, with its two places" />
        {image.pins.map((pin, i) => (
          <b
            // biome-ignore lint/suspicious/noArrayIndexKey: there are two, first and second
            key={i}
            className={i === at ? 'pin chosen' : 'pin'}
            style={{
              insetInlineStart: `${(100 * pin.x) / image.width}%`,
              insetBlockStart: `${(100 * pin.y) / image.height}%`,
            }}
          >
            {i + 1}
          </b>
        ))}
      </div>
      {([0, 1] as const).map((which) => (
        <PinFields
          key={which}
          which={which}
          pin={image.pins[which]}
          image={image}
          isChosen={which === at}
          choose={() => setAt(which)}
          put={(change) => put(which, change)}
          cross={cross}
        />
      ))}
      <p>{laidWords(image, circuit)}</p>
      <button type="button" className="word" onClick={() => under.keep(null)}>
        take the image away
      </button>
    </>
  );
}

interface PinFieldsProps {
  readonly which: 0 | 1;
  readonly pin: HalfPin;
  readonly image: KeptImage;
  readonly isChosen: boolean;
  readonly choose: () => void;
  readonly put: (change: Partial<HalfPin>) => void;
  readonly cross: Place;
}

function PinFields({ which, pin, image, isChosen, choose, put, cross }: PinFieldsProps) {
  const name = which === 0 ? 'First place' : 'Second place';
  return (
    <fieldset className="pin-fields">
      <legend>
        {name}: {pin.place === null ? 'not yet on the map' : sayPlace(pin.place)}
      </legend>
      <label>
        <input type="radio" name="pin" checked={isChosen} onChange={choose} /> a tap in the image sets it
      </label>
      <NumberWord
        label={`${name}, from the left`}
        value={pin.x}
        from={0}
        to={image.width}
        unit="px"
        isNeeded
        put={(x = 0) => put({ x })}
      />
      <NumberWord
        label={`${name}, from the top`}
        value={pin.y}
        from={0}
        to={image.height}
        unit="px"
        isNeeded
        put={(y = 0) => put({ y })}
      />
      <button type="button" className="word" onClick={() => put({ place: cross })}>
        {name.toLowerCase()} is at the cross
      </button>
    </fieldset>
  );
}

function laidWords(image: KeptImage, circuit: Circuit): string {
  if (!image.pins.every(isSet)) return 'Show both places, in the image and on the map; then it lies under the drawing.';
  const laid = laidOf(image, sheetOf(circuit, 900, 600));
  if (laid === null) return 'Both places are one: show two that lie far apart.';
  return `A pixel is ${laid.metresPerPixel.toFixed(2)} m, and its top looks ${Math.round((laid.turnedDeg + 360) % 360)}° from north. Where that is odd, set the places again.`;
}
