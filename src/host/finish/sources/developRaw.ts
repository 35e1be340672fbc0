/**
 * Raws developed by LibRaw, as WebAssembly of npm package libraw-wasm: no native build, any machine. What is wanted of
 * it is a picture like the camera's: the camera's white balance and matrix, sRGB with its own curve, no brightening and no
 * white point by what else is in the frame, which would make the frames of a burst differ.
 */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { PixelSize } from '../../../core/finish/index.js';

type LibRaw = Awaited<ReturnType<typeof import('libraw-wasm/dist/libraw.js')['default']>>;

/** Three bytes a pixel, upright. */
export interface DevelopedRaw {
  readonly data: Uint8Array;
  readonly size: PixelSize;
}

/** Adaptive homogeneity-directed interpolation, dcraw's number for it. */
const AHD = 3;
const SRGB = 1;
/** IEC 61966-2-1: power 1 ÷ 2.4, slope of the straight part. */
const SRGB_CURVE = [1 / 2.4, 12.92, 0, 0, 0, 0] as const;

let library: Promise<LibRaw> | undefined;

/** Throws with the end of a sentence where the file cannot be developed. */
export async function developRaw(bytes: Buffer): Promise<DevelopedRaw> {
  library ??= loadLibrary();
  const raw = new (await library).LibRaw();
  try {
    raw.open(bytes, {
      useCameraWb: true,
      noAutoBright: true,
      adjustMaximumThr: 0,
      outputColor: SRGB,
      outputBps: 8,
      userQual: AHD,
      gamm: SRGB_CURVE,
    });
    const developed = raw.imageData();
    if (developed?.colors !== 3 || developed.bits !== 8) throw new Error('no colours came out');
    return { data: developed.data, size: { widthPx: developed.width, heightPx: developed.height } };
  } catch (cause) {
    // What the library throws is a number in its own memory.
    throw new Error('the raw library cannot develop this kind of file, or it is damaged', { cause });
  } finally {
    raw.delete();
  }
}

/** The library was built for browsers' workers and looks for their globals, once, while it loads. */
async function loadLibrary(): Promise<LibRaw> {
  const require = createRequire(import.meta.url);
  const wasmBinary = await readFile(require.resolve('libraw-wasm/dist/libraw.wasm'));
  const globals = globalThis as Record<string, unknown>;
  const before = { WorkerGlobalScope: globals.WorkerGlobalScope, self: globals.self };
  Object.assign(globals, { WorkerGlobalScope: Object, self: globalThis });
  try {
    const { default: make } = await import('libraw-wasm/dist/libraw.js');
    return await make({ wasmBinary });
  } finally {
    Object.assign(globals, before);
  }
}
