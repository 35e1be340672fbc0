/** Which files of a folder are an edition's own, by where they lie. What somebody put beside them is not ours to remove. */
const OWN =
  /^(?:(?:[a-z]{2}\/)?(?:(?:index|cannot-find|privacy|numbers|riders|session-[a-z0-9-]+|colour-[a-z-]+)(?:-page-\d+)?|(?:rider|mine)\/[0-9a-f]{32})\.html|find\/(?:top|\d+|cards-[a-z]{2}-\d+)\.txt|(?:proof|small|face)\/[0-9a-f]{32}(?:-\d+)?\.(?:jpg|webp|avif))$/;

/** @param path from the edition's folder */
export const isOwnFile = (path: string): boolean => OWN.test(path);
