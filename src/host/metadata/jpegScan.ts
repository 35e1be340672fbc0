/**
 * Finds the coded picture of a JPEG in a stream of chunks: from its first SOS marker through its own EOI.
 *
 * Source: ITU-T T.81 (1992) annex B: markers are FF xx with any number of FF before; RSTn, SOI, EOI and TEM
 * stand alone, every other marker is followed by a two-byte length that counts itself; in coded data FF 00 is a byte FF.
 * A progressive picture has several scans with tables between them, so a segment's inside is skipped by its
 * length and never searched: its bytes may look like an EOI.
 *
 * Damaged files are well defined: without an EOI the picture runs to the end of the file, or through an SOI
 * that cannot be there, because it begins the next picture in the file.
 */
const MARKER = { tem: 0x01, rst0: 0xd0, rst7: 0xd7, soi: 0xd8, eoi: 0xd9, sos: 0xda } as const;

export type ScanEnd = 'end-marker' | 'next-picture' | 'file-ends' | 'no-scan';

/** Half-open range of the chunk that belongs to the coded picture, and whether an SOS opened in this chunk. */
export interface ScanPiece {
  readonly from: number;
  readonly to: number;
  /** The first SOS marker ended at `from`: the caller puts FF DA before the piece. */
  readonly opens: boolean;
}

type State = 'between' | 'marker' | 'length-high' | 'length-low' | 'inside' | 'coded' | 'coded-marker' | 'done';

export class JpegScan {
  #state: State = 'between';
  #marker = 0;
  #lengthHigh = 0;
  #left = 0;
  #isOpen = false;
  #end: ScanEnd = 'no-scan';

  get isDone(): boolean {
    return this.#state === 'done';
  }

  /** Good after the last chunk. */
  get end(): ScanEnd {
    return this.#end;
  }

  feed(chunk: Uint8Array): ScanPiece {
    let from = this.#isOpen ? 0 : chunk.length;
    let opens = false;
    let at = 0;
    while (at < chunk.length && this.#state !== 'done') {
      const wasOpen = this.#isOpen;
      at = this.#step(chunk, at);
      if (!wasOpen && this.#isOpen) {
        opens = true;
        from = at;
      }
    }
    return { from: Math.min(from, at), to: this.#isOpen ? at : Math.min(from, at), opens };
  }

  /** Takes at least one byte and returns the next position. */
  #step(chunk: Uint8Array, at: number): number {
    const byte = chunk[at] as number;
    switch (this.#state) {
      case 'between': {
        const next = chunk.indexOf(0xff, at);
        if (next === -1) return chunk.length;
        this.#state = 'marker';
        return next + 1;
      }
      case 'coded': {
        const next = nextMarkerInCoded(chunk, at);
        if (next === -1) return chunk.length;
        this.#state = 'coded-marker';
        return next + 1;
      }
      case 'marker':
      case 'coded-marker':
        this.#meet(byte);
        return at + 1;
      case 'length-high':
        this.#lengthHigh = byte;
        this.#state = 'length-low';
        return at + 1;
      case 'length-low':
        this.#left = Math.max(0, this.#lengthHigh * 256 + byte - 2);
        this.#state = this.#left > 0 ? 'inside' : this.#afterSegment();
        return at + 1;
      case 'inside': {
        const taken = Math.min(this.#left, chunk.length - at);
        this.#left -= taken;
        if (this.#left === 0) this.#state = this.#afterSegment();
        return at + taken;
      }
      case 'done':
        return chunk.length;
    }
  }

  #afterSegment(): State {
    return this.#marker === MARKER.sos ? 'coded' : 'between';
  }

  #meet(marker: number): void {
    const isCoded = this.#state === 'coded-marker';
    if (marker === 0xff) return;
    if (isAlone(marker)) {
      this.#state = isCoded ? 'coded' : 'between';
    } else if (marker === MARKER.eoi) {
      this.#finish('end-marker');
    } else if (marker === MARKER.soi) {
      if (this.#isOpen) this.#finish('next-picture');
      else this.#state = 'between';
    } else {
      this.#begin(marker);
    }
  }

  #begin(marker: number): void {
    this.#marker = marker;
    this.#state = 'length-high';
    if (marker !== MARKER.sos || this.#isOpen) return;
    this.#isOpen = true;
    this.#end = 'file-ends';
  }

  #finish(end: ScanEnd): void {
    this.#state = 'done';
    if (this.#isOpen) this.#end = end;
  }
}

/** What follows FF without opening a segment or ending the picture. */
const isAlone = (marker: number | undefined): boolean =>
  marker === 0x00 || marker === MARKER.tem || (marker !== undefined && marker >= MARKER.rst0 && marker <= MARKER.rst7);

/** An FF with another byte after it than the usual ones (or none in this chunk); −1 where there is none. */
const nextMarkerInCoded = (chunk: Uint8Array, from: number): number => {
  let at = chunk.indexOf(0xff, from);
  while (at !== -1 && isAlone(chunk[at + 1])) at = chunk.indexOf(0xff, at + 2);
  return at;
};
