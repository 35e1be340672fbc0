/** The part of npm package libraw-wasm that is used here; its own types are those of its worker for browsers. */
declare module 'libraw-wasm/dist/libraw.js' {
  interface Settings {
    readonly useCameraWb: boolean;
    readonly noAutoBright: boolean;
    readonly adjustMaximumThr: number;
    readonly outputColor: number;
    readonly outputBps: number;
    readonly userQual: number;
    /** Power and slope, then four places the library fills; a shorter list is passed over in silence. */
    readonly gamm: readonly [number, number, 0, 0, 0, 0];
  }
  interface Developed {
    readonly width: number;
    readonly height: number;
    readonly colors: number;
    readonly bits: number;
    readonly data: Uint8Array;
  }
  interface Raw {
    open(bytes: Uint8Array, settings: Settings): void;
    imageData(): Developed | undefined;
    delete(): void;
  }
  interface Module {
    readonly LibRaw: new () => Raw;
  }
  export default function make(options: { wasmBinary: Uint8Array }): Promise<Module>;
}
