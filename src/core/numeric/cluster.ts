/**
 * Agglomerative clustering by average linkage with pairs that must not meet.
 *
 * Source: R. Sokal, C. Michener, "A statistical method for evaluating systematic relationships", Univ. Kansas Sci.
 * Bull. 38 (1958) 1409–1438 (UPGMA); Lance and Williams (1967) update. Nearest neighbours are remembered, so the cost
 * is O(n²) in practice and O(n²) in memory. Ties go to the lower index: the result depends on nothing else.
 */

/**
 * Joins the most similar two clusters until none reach `threshold`.
 * @param similarity symmetric, `n × n`, row by row; overwritten.
 * @param apart symmetric, `n × n`, 1 where two items must not share a cluster; overwritten.
 * @returns per item the number of its cluster, from 0 in order of each cluster's first item.
 */
export function averageLinkage(n: number, similarity: Float32Array, apart: Uint8Array, threshold: number): Int32Array {
  const size = new Int32Array(n).fill(1);
  const owner = Int32Array.from({ length: n }, (_, i) => i);
  const nearest = new Int32Array(n).fill(-1);
  const nearestScore = new Float32Array(n).fill(Number.NEGATIVE_INFINITY);
  const alive: number[] = Array.from({ length: n }, (_, i) => i);
  const findNearest = (i: number): void => {
    let best = -1;
    let score = Number.NEGATIVE_INFINITY;
    const row = i * n;
    for (const j of alive) {
      if (j === i || apart[row + j] === 1 || similarity[row + j]! <= score) continue;
      score = similarity[row + j]!;
      best = j;
    }
    nearest[i] = best;
    nearestScore[i] = score;
  };
  for (let i = 0; i < n; i++) findNearest(i);
  for (;;) {
    let a = -1;
    let score = Number.NEGATIVE_INFINITY;
    for (const i of alive) {
      if (nearestScore[i]! <= score) continue;
      score = nearestScore[i]!;
      a = i;
    }
    if (a === -1 || score < threshold) break;
    const b = nearest[a]!;
    const keep = Math.min(a, b);
    const gone = Math.max(a, b);
    alive.splice(alive.indexOf(gone), 1);
    owner[gone] = keep;
    const sizeKeep = size[keep]!;
    const sizeGone = size[gone]!;
    size[keep] = sizeKeep + sizeGone;
    for (const j of alive) {
      if (j === keep) continue;
      const joined =
        (sizeKeep * similarity[keep * n + j]! + sizeGone * similarity[gone * n + j]!) / (sizeKeep + sizeGone);
      const isApart = apart[keep * n + j]! | apart[gone * n + j]!;
      similarity[keep * n + j] = joined;
      similarity[j * n + keep] = joined;
      apart[keep * n + j] = isApart;
      apart[j * n + keep] = isApart;
    }
    findNearest(keep);
    for (const j of alive) if (j !== keep && (nearest[j] === keep || nearest[j] === gone)) findNearest(j);
  }
  return numberClusters(owner);
}

/** Follows owners to their roots and numbers the roots in order of first appearance. */
function numberClusters(owner: Int32Array): Int32Array {
  const numbers = new Map<number, number>();
  return owner.map((_, i) => {
    let root = i;
    while (owner[root] !== root) root = owner[root]!;
    let number = numbers.get(root);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(root, number);
    }
    return number;
  });
}
