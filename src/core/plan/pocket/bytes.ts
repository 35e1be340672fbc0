/**
 * Numbers and words as few bytes: whole numbers in groups of seven bits, lowest first, the top bit saying that more follow
 * (LEB128, as in the DWARF and WebAssembly specifications); below zero folded between the others (zigzag). Words are UTF-8
 * (RFC 3629) behind their length, the usual ones shortened.
 */
import { decodeWords, encodeWords } from './words.js';

/** Larger numbers would not survive the way through a double. */
const MOST_BITS = 53;

/** What cannot be read says why; the code around it becomes a sentence. */
export class UnreadableBytes extends Error {
  override readonly name = 'UnreadableBytes';
}

export class ByteWriter {
  readonly #bytes: number[] = [];

  whole(value: number): void {
    if (!Number.isSafeInteger(value) || value < 0)
      throw new RangeError(`Expected a whole number from 0 on for the pocket page but got ${value}.`);
    let rest = value;
    while (rest >= 0x80) {
      this.#bytes.push((rest % 0x80) + 0x80);
      rest = Math.floor(rest / 0x80);
    }
    this.#bytes.push(rest);
  }

  signed(value: number): void {
    this.whole(value < 0 ? -2 * value - 1 : 2 * value);
  }

  text(value: string): void {
    this.raw(encodeWords(value));
  }

  raw(value: Uint8Array): void {
    this.whole(value.length);
    for (const byte of value) this.#bytes.push(byte);
  }

  hex(value: string, digits: number): void {
    if (value.length !== digits || /[^0-9a-f]/.test(value))
      throw new RangeError(`Expected ${digits} hex digits but got “${value}”.`);
    for (let at = 0; at < digits; at += 2) this.#bytes.push(Number.parseInt(value.slice(at, at + 2), 16));
  }

  list<Item>(items: readonly Item[], write: (item: Item, index: number) => void): void {
    this.whole(items.length);
    items.forEach(write);
  }

  done(): Uint8Array {
    return Uint8Array.from(this.#bytes);
  }
}

export class ByteReader {
  readonly #bytes: Uint8Array;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  whole(): number {
    let value = 0;
    for (let bits = 0; bits < MOST_BITS; bits += 7) {
      const byte = this.#byte();
      value += (byte & 0x7f) * 2 ** bits;
      if (byte < 0x80) return value;
    }
    throw new UnreadableBytes('a number is too large');
  }

  signed(): number {
    const folded = this.whole();
    return folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2;
  }

  text(): string {
    const text = decodeWords(this.raw());
    if (text === null) throw new UnreadableBytes('a word cannot be read');
    return text;
  }

  raw(): Uint8Array {
    const length = this.whole();
    if (length > this.#bytes.length - this.#at) throw new UnreadableBytes('it ends too soon');
    this.#at += length;
    return Uint8Array.from(this.#bytes.subarray(this.#at - length, this.#at));
  }

  hex(digits: number): string {
    return Array.from({ length: digits / 2 }, () => this.#byte().toString(16).padStart(2, '0')).join('');
  }

  list<Item>(read: (index: number) => Item): Item[] {
    return this.items(this.whole(), read);
  }

  items<Item>(length: number, read: (index: number) => Item): Item[] {
    if (length > this.#bytes.length - this.#at) throw new UnreadableBytes('a list is longer than what follows');
    return Array.from({ length }, (_, index) => read(index));
  }

  /** Nothing may be left over: what was not understood is not shown as if it were. */
  end(): void {
    if (this.#at < this.#bytes.length) throw new UnreadableBytes('something follows its end');
  }

  #byte(): number {
    const byte = this.#bytes[this.#at];
    if (byte === undefined) throw new UnreadableBytes('it ends too soon');
    this.#at += 1;
    return byte;
  }
}
