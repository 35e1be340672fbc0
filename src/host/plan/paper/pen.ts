/** Draws in CSS pixels, origin at the top left of what may be printed, on pages of A4; text stands on its baseline. */
import { readFileSync } from 'node:fs';
import { brotliDecompressSync } from 'node:zlib';
import PdfDocument from 'pdfkit';
import { PAPER } from '../../../core/plan/sheet/paper.js';
import { unpackFiles } from '../../vision/packedFiles.js';

export const INK = '#15191B';
export const INK_2 = '#454C50';
export const INK_3 = '#656C70';
export const EDGE = '#7F868A';
export const RULE = '#C9CCC8';
export const BAND = '#EDEDE8';
export const RED = '#BC2018';
export const WHITE = '#FFFFFF';

export type Face = 'text' | 'strong' | 'figures' | 'pencil';

/** By face. Kept compressed, much of one being in another: pdfkit cannot embed parts of a WOFF2. */
const readFonts = (): ReadonlyMap<string, Buffer> =>
  unpackFiles(brotliDecompressSync(readFileSync(new URL('./fonts/archivo.br', import.meta.url))));

export interface TextLook {
  readonly face?: Face;
  readonly size: number;
  readonly ink?: string;
  readonly align?: 'left' | 'middle' | 'right';
  /** Wider than this it ends in an ellipsis. */
  readonly within?: number;
}

export interface LineLook {
  readonly ink?: string;
  readonly width?: number;
  readonly dash?: readonly [on: number, off: number];
}

export interface ShapeLook extends LineLook {
  readonly fill?: string;
  readonly fillOpacity?: number;
}

export type Point = readonly [x: number, y: number];

const POINTS_PER_PX = 0.75;

export interface Pen {
  /** Characters that the fonts lack; a question mark stands in their place. */
  readonly missing: ReadonlySet<string>;
  readonly pages: number;
  newPage(): void;
  goToPage(index: number): void;
  text(words: string, x: number, baseline: number, look: TextLook): void;
  widthOf(words: string, look: TextLook): number;
  /** Lines no wider than `width`, broken between words; a single word that is wider is broken within. */
  wrap(words: string, width: number, look: TextLook): readonly string[];
  line(points: readonly Point[], look?: LineLook): void;
  shape(points: readonly Point[], look: ShapeLook): void;
  box(x: number, y: number, width: number, height: number, look: ShapeLook): void;
  disc(x: number, y: number, radius: number, look: ShapeLook): void;
  /** A JPEG, as large as the box. */
  picture(jpeg: Uint8Array, x: number, y: number, width: number, height: number): void;
  /** What `draw` draws outside of the box is cut off. */
  clipped(x: number, y: number, width: number, height: number, draw: () => void): void;
  end(): Promise<Uint8Array>;
}

export function penOn(about: { readonly title: string; readonly madeAt: Date }): Pen {
  return new PdfPen(about);
}

class PdfPen implements Pen {
  readonly missing = new Set<string>();
  readonly #doc: PDFKit.PDFDocument;
  readonly #chunks: Buffer[] = [];

  constructor({ title, madeAt }: { readonly title: string; readonly madeAt: Date }) {
    this.#doc = new PdfDocument({
      size: 'A4',
      margin: 0,
      bufferPages: true,
      autoFirstPage: false,
      lang: 'en-GB',
      displayTitle: true,
      info: { Title: title, Creator: 'Tyrewall', Producer: 'Tyrewall', CreationDate: madeAt, ModDate: madeAt },
    });
    for (const [face, font] of readFonts()) this.#doc.registerFont(face, font);
    this.#doc.on('data', (chunk: Buffer) => this.#chunks.push(chunk));
    this.newPage();
  }

  get pages(): number {
    return this.#doc.bufferedPageRange().count;
  }

  newPage(): void {
    this.#doc.addPage();
    this.#doc.scale(POINTS_PER_PX).translate(PAPER.edgePx, PAPER.topPx);
  }

  goToPage(index: number): void {
    this.#doc.switchToPage(index);
  }

  text(words: string, x: number, baseline: number, look: TextLook): void {
    const shown = this.#within(this.#drawable(words, look), look);
    const width = this.widthOf(shown, look);
    const left = look.align === 'right' ? x - width : look.align === 'middle' ? x - width / 2 : x;
    this.#use(look)
      .fillColor(look.ink ?? INK)
      .text(shown, left, baseline, { lineBreak: false, baseline: 'alphabetic' });
  }

  widthOf(words: string, look: TextLook): number {
    return this.#use(look).widthOfString(words);
  }

  wrap(words: string, width: number, look: TextLook): readonly string[] {
    const lines: string[] = [];
    for (const word of this.#drawable(words, look)
      .split(/\s+/)
      .flatMap((word) => this.#pieces(word, width, look))) {
      const longer = lines.length === 0 ? word : `${lines.at(-1)} ${word}`;
      if (lines.length > 0 && this.widthOf(longer, look) <= width) lines[lines.length - 1] = longer;
      else lines.push(word);
    }
    return lines;
  }

  #pieces(word: string, width: number, look: TextLook): readonly string[] {
    if (this.widthOf(word, look) <= width) return [word];
    const pieces: string[] = [''];
    for (const letter of word) {
      const longer = pieces.at(-1)! + letter;
      if (pieces.at(-1) === '' || this.widthOf(longer, look) <= width) pieces[pieces.length - 1] = longer;
      else pieces.push(letter);
    }
    return pieces;
  }

  #within(words: string, look: TextLook): string {
    if (look.within === undefined || this.widthOf(words, look) <= look.within) return words;
    const letters = [...words];
    while (letters.length > 0 && this.widthOf(`${letters.join('').trimEnd()}…`, look) > look.within) letters.pop();
    return `${letters.join('').trimEnd()}…`;
  }

  #drawable(words: string, look: TextLook): string {
    this.#use(look);
    // pdfkit keeps the opened font to itself; its own type says nothing of it.
    const { font } = (this.#doc as unknown as { _font: { font: { hasGlyphForCodePoint(code: number): boolean } } })
      ._font;
    return [...words.normalize('NFC').replace(/\p{Cc}/gu, ' ')]
      .map((letter) => {
        if (font.hasGlyphForCodePoint(letter.codePointAt(0)!)) return letter;
        this.missing.add(letter);
        return '?';
      })
      .join('');
  }

  #use({ face = 'text', size }: TextLook): PDFKit.PDFDocument {
    return this.#doc.font(face).fontSize(size);
  }

  line(points: readonly Point[], look: LineLook = {}): void {
    this.#path(points);
    this.#stroke(look);
  }

  shape(points: readonly Point[], look: ShapeLook): void {
    this.#path(points);
    this.#doc.closePath();
    this.#paint(look);
  }

  box(x: number, y: number, width: number, height: number, look: ShapeLook): void {
    this.#doc.rect(x, y, width, height);
    this.#paint(look);
  }

  disc(x: number, y: number, radius: number, look: ShapeLook): void {
    this.#doc.circle(x, y, radius);
    this.#paint(look);
  }

  picture(jpeg: Uint8Array, x: number, y: number, width: number, height: number): void {
    this.#doc.image(Buffer.from(jpeg), x, y, { width, height });
  }

  clipped(x: number, y: number, width: number, height: number, draw: () => void): void {
    this.#doc.save().rect(x, y, width, height).clip();
    draw();
    this.#doc.restore();
  }

  #path(points: readonly Point[]): void {
    for (const [i, [x, y]] of points.entries()) {
      if (i === 0) this.#doc.moveTo(x, y);
      else this.#doc.lineTo(x, y);
    }
  }

  #stroke({ ink = INK, width = 1, dash }: LineLook): void {
    this.#doc.lineWidth(width).lineJoin('round');
    if (dash === undefined) this.#doc.undash();
    else this.#doc.dash(dash[0], { space: dash[1] });
    this.#doc.stroke(ink);
  }

  /** Without `fill` it is an outline; with both `fill` and `ink` a filled outline. */
  #paint(look: ShapeLook): void {
    const { fill, ink, width = 1, dash, fillOpacity = 1 } = look;
    if (fill === undefined) {
      this.#stroke(look);
      return;
    }
    this.#doc.fillOpacity(fillOpacity);
    if (ink === undefined) this.#doc.fill(fill);
    else {
      this.#doc.lineWidth(width);
      if (dash === undefined) this.#doc.undash();
      else this.#doc.dash(dash[0], { space: dash[1] });
      this.#doc.fillAndStroke(fill, ink);
    }
    this.#doc.fillOpacity(1);
  }

  end(): Promise<Uint8Array> {
    return new Promise((resolve, reject) => {
      this.#doc.on('end', () => resolve(new Uint8Array(Buffer.concat(this.#chunks))));
      this.#doc.on('error', reject);
      this.#doc.end();
    });
  }
}
