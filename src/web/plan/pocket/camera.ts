/** Looks through the laptop's camera for a code, some times a second, until one is read or the person has enough. */
import { prepareZXingModule, type ReaderOptions, readBarcodes } from 'zxing-wasm/reader';
import wasmUrl from 'zxing-wasm/reader/zxing_reader.wasm?url';

/** The phone is held still for longer than this. */
const LOOK_EVERY_MS = 200;
/** Codes of 105 modules want every pixel of an ordinary camera; more would only take longer. */
const WISH = { width: { ideal: 1920 }, height: { ideal: 1080 } } as const;
const OPTIONS: ReaderOptions = { formats: ['QRCode'], tryHarder: true, maxNumberOfSymbols: 1 };

export interface Looking {
  /** Shown, so that the person sees what the camera sees. */
  readonly stream: MediaStream;
  readonly read: Promise<string>;
  stop(): void;
}

/** Throws a sentence where there is no camera or it may not be used. */
export async function lookThroughCamera(): Promise<Looking> {
  const stream = await openCamera();
  // The reader lies on this desk: nothing is fetched from elsewhere.
  prepareZXingModule({ overrides: { locateFile: () => wasmUrl } });
  let isOver = false;
  const stop = () => {
    isOver = true;
    for (const track of stream.getTracks()) track.stop();
  };
  return { stream, stop, read: readFrom(stream, () => isOver).finally(stop) };
}

async function openCamera(): Promise<MediaStream> {
  const { mediaDevices } = navigator as { readonly mediaDevices?: MediaDevices };
  if (mediaDevices === undefined) throw new Error(NO_CAMERA);
  try {
    return await mediaDevices.getUserMedia({ video: WISH, audio: false });
  } catch (problem) {
    const isRefused = problem instanceof DOMException && problem.name === 'NotAllowedError';
    throw new Error(isRefused ? NOT_ALLOWED : NO_CAMERA);
  }
}

const NO_CAMERA =
  'Expected a camera on this laptop but the browser finds none. Save the file on the phone and give it here instead.';
const NOT_ALLOWED =
  'Expected leave to look through the camera but the browser refuses it. Allow it beside the address above, or save the file on the phone and give it here.';

/** Never resolves once it is over. */
async function readFrom(stream: MediaStream, isOver: () => boolean): Promise<string> {
  const video = document.createElement('video');
  video.muted = true;
  video.srcObject = stream;
  await video.play();
  const canvas = document.createElement('canvas');
  const paper = canvas.getContext('2d', { willReadFrequently: true });
  if (paper === null)
    throw new Error('This browser lends no paper to draw the camera’s picture on. Give the file instead.');
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
    if (isOver()) return new Promise<never>(() => undefined);
    if (video.videoWidth === 0) continue;
    [canvas.width, canvas.height] = [video.videoWidth, video.videoHeight];
    paper.drawImage(video, 0, 0);
    const [code] = await readBarcodes(paper.getImageData(0, 0, canvas.width, canvas.height), OPTIONS);
    if (code?.isValid) return code.text;
  }
}
