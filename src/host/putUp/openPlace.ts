import type { Place, PlaceAddress } from './types.js';

/** Each kind's library is loaded only when a place of that kind is opened. */
export async function openPlace(address: PlaceAddress): Promise<Place> {
  switch (address.kind) {
    case 'folder':
      return (await import('./folderPlace.js')).folderPlace(address);
    case 'sftp':
      return (await import('./sftpPlace.js')).sftpPlace(address);
    case 's3':
      return (await import('./s3Place.js')).s3Place(address);
  }
}
