/** Which files the meeting's cards hold on this machine, by place, by content and by frame. */
import type { KnownFile } from '../../core/arrange/types.js';
import type { FileId, FrameId } from '../../core/ids.js';
import type { MeasuredStore } from '../meeting/types.js';
import { placeOf } from './arrangeMessages.js';
import type { FileHere } from './measureRunner.js';

export interface FilesHere {
  /** Those that were not known at that place with that content. */
  add(files: readonly FileHere[]): readonly FileHere[];
  /** Forgets what does not stand any more; returns those places. */
  keepOnly(places: ReadonlySet<string>): readonly string[];
  /** Every place of a file, with its metadata; none while that is not measured. */
  known(file: FileId): readonly KnownFile[];
  allKnown(): readonly KnownFile[];
  /** The first file that holds the frame. */
  ofFrame(frame: FrameId): FileHere | undefined;
  /** Metadata of a file became known. */
  metadataKnown(file: FileId): void;
}

export function filesHere(measured: MeasuredStore): FilesHere {
  const places = new Map<string, FileHere>();
  const byFile = new Map<FileId, FileHere[]>();
  const byFrame = new Map<FrameId, FileId>();

  const asKnown = ({ fileId, fill, path }: FileHere): readonly KnownFile[] => {
    const metadata = measured.metadata(fileId);
    return metadata === undefined ? [] : [{ fileId, fill, path, metadata }];
  };
  const metadataKnown = (fileId: FileId): void => {
    const frame = measured.metadata(fileId)?.frameId;
    if (frame === undefined) return;
    const shownBy = byFrame.get(frame);
    if (shownBy === undefined || (byFile.get(shownBy) ?? []).length === 0) byFrame.set(frame, fileId);
  };
  const forget = (place: string): void => {
    const { fileId } = places.get(place) as FileHere;
    places.delete(place);
    byFile.set(
      fileId,
      (byFile.get(fileId) ?? []).filter((file) => placeOf(file) !== place),
    );
  };

  return {
    add(files) {
      const added = files.filter((file) => places.get(placeOf(file))?.fileId !== file.fileId);
      for (const file of added) {
        if (places.has(placeOf(file))) forget(placeOf(file));
        places.set(placeOf(file), file);
        byFile.set(file.fileId, [...(byFile.get(file.fileId) ?? []), file]);
        metadataKnown(file.fileId);
      }
      return added;
    },
    keepOnly(standing) {
      const gone = [...places.keys()].filter((place) => !standing.has(place));
      for (const place of gone) forget(place);
      return gone;
    },
    known: (fileId) => (byFile.get(fileId) ?? []).flatMap(asKnown),
    allKnown: () => [...places.values()].flatMap(asKnown),
    ofFrame: (frame) => byFile.get(byFrame.get(frame) as FileId)?.[0],
    metadataKnown,
  };
}
