/** A measurement is kept with its measurer's version; a newer version measures again and the old lines stay. */
export const METADATA_VERSION = 2;
export const PIXELS_VERSION = 8;
