/** A place galleries are put up to, and what can be asked of it. One contract suite runs against every kind. */
import type { PlacedFile } from '../../core/handover/putUp/index.js';

/** How a web server should hand a file out, where the place can be told. */
export interface Serving {
  readonly type: string;
  readonly cache: string;
}

/** Paths are from the place's root, `/` between parts. Every call may be made again after it failed. */
export interface Place {
  /** In sentences: `the folder /media/stick`. */
  readonly said: string;
  /** Everything below a folder, `''` for all; nothing where there is none. */
  list(folder: string): Promise<readonly PlacedFile[]>;
  /** The file is there whole or, as before, not at all. */
  put(path: string, bytes: Uint8Array, serving: Serving): Promise<PlacedFile>;
  /** Null where there is none. */
  read(path: string): Promise<Uint8Array | null>;
  /** What is not there is removed already. */
  remove(path: string): Promise<void>;
  close(): Promise<void>;
}

/** Where a place is and how it is entered; kept for this user alone, outside every meeting's folder. */
export type PlaceAddress =
  | { readonly kind: 'folder'; readonly folder: string }
  | {
      readonly kind: 'sftp';
      readonly host: string;
      readonly port: number;
      readonly user: string;
      /** From the server's root, or from the user's own folder where it begins with no `/`. */
      readonly folder: string;
      /** `SHA256:…` as ssh says it; another one is refused. */
      readonly hostKey: string;
      readonly privateKeyFile: string | null;
      /** The password, or of the private key where there is one. */
      readonly secret: string | null;
    }
  | {
      readonly kind: 's3';
      readonly bucket: string;
      readonly folder: string;
      readonly endpoint: string | null;
      readonly region: string;
      readonly keyId: string;
      readonly secret: string;
    };
