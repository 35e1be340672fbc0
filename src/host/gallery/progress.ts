/** How far the making of a gallery is, on one scale from its first proof to its last page. */
export interface GalleryProgress {
  readonly part: Part;
  /** So many of the part's own are there. */
  readonly count: number;
  readonly of: number;
  /** Of the whole, in hundredths; as is how many of them took time: what stood there already took none. */
  readonly done: number;
  readonly made: number;
  readonly total: number;
}

type Part = 'proofs' | 'pictures' | 'pages';

/** Where each part begins and ends. By reasoning: of 3,000 pictures both kinds take minutes and pages seconds. */
const SHARES: Readonly<Record<Part, readonly [from: number, to: number]>> = {
  proofs: [0, 45],
  pictures: [45, 95],
  pages: [95, 100],
};

/** @returns what tells how many of a part are there, and how many of these were made now */
export function galleryScale(onProgress: (progress: GalleryProgress) => void = () => {}) {
  const took = { proofs: 0, pictures: 0, pages: 0 };
  return (part: Part, count: number, of: number, made = count): void => {
    const [from, to] = SHARES[part];
    const share = (n: number) => ((to - from) * n) / Math.max(1, of);
    took[part] = share(made);
    const all = took.proofs + took.pictures + took.pages;
    onProgress({ part, count, of, done: Math.floor(from + share(count)), made: Math.floor(all), total: 100 });
  };
}

export type GalleryScale = ReturnType<typeof galleryScale>;
