/** A map image under the drawing. It stays in this browser, by meeting, and goes into no file and to no server. Rule PL114. */
import { useEffect, useState } from 'react';
import type { Pin } from '../../../core/plan/circuit/draw/underlay.js';

export interface KeptImage {
  /** As a data address. */
  readonly source: string;
  readonly width: number;
  readonly height: number;
  /** The two places known on both; a pin without its place on the ground lays nothing. */
  readonly pins: readonly [HalfPin, HalfPin];
}

export type HalfPin = Omit<Pin, 'place'> & { readonly place: Pin['place'] | null };

export interface UnderImageStore {
  readonly image: KeptImage | null;
  readonly keep: (image: KeptImage | null) => void;
  /** A file as the image; why not is in `wrong`. */
  readonly take: (file: File) => void;
  readonly wrong: string | null;
}

const NAME = 'tyrewall-map-images';
const STORE = 'images';

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE);
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error ?? new Error('The browser opens no store.'));
  });
}

async function inStore(mode: IDBTransactionMode, work: (store: IDBObjectStore) => IDBRequest): Promise<unknown> {
  const database = await open();
  try {
    return await new Promise((resolve, reject) => {
      const asked = work(database.transaction(STORE, mode).objectStore(STORE));
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error ?? new Error('The browser kept nothing.'));
    });
  } finally {
    database.close();
  }
}

/** A browser that keeps nothing still shows the image until the page goes. */
export function useUnderImage(meeting: string): UnderImageStore {
  const [image, setImage] = useState<KeptImage | null>(null);
  useEffect(() => {
    inStore('readonly', (store) => store.get(meeting)).then(
      (kept) => setImage((kept as KeptImage | undefined) ?? null),
      () => undefined,
    );
  }, [meeting]);
  const keep = (next: KeptImage | null) => {
    setImage(next);
    const work = (store: IDBObjectStore): IDBRequest =>
      next === null ? store.delete(meeting) : store.put(next, meeting);
    inStore('readwrite', work).catch(() => undefined);
  };
  const [wrong, setWrong] = useState<string | null>(null);
  const take = (file: File) => {
    imageOf(file).then(
      (taken) => {
        keep(taken);
        setWrong(null);
      },
      () => setWrong(`Expected an image, but ${file.name} cannot be shown as one. Save it as PNG or JPEG.`),
    );
  };
  return { image, keep, take, wrong };
}

/** The file as an image with its size in pixels. */
async function imageOf(file: Blob): Promise<KeptImage> {
  const source = await new Promise<string>((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(reader.result as string);
    reader.onerror = () => reject(reader.error ?? new Error('it cannot be read'));
    reader.readAsDataURL(file);
  });
  const drawn = new Image();
  drawn.src = source;
  await drawn.decode();
  const { naturalWidth: width, naturalHeight: height } = drawn;
  const pin = (x: number, y: number): HalfPin => ({ x: Math.round(x * width), y: Math.round(y * height), place: null });
  return { source, width, height, pins: [pin(0.25, 0.25), pin(0.75, 0.75)] };
}
