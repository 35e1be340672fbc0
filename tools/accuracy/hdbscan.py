"""Clusters rows of unit length by HDBSCAN (R. Campello, D. Moulavi, J. Sander, PAKDD 2013), for comparison only.

Reads {"rows": [[...]], "sizes": [...]} from standard input, writes [{"size": ..., "labels": [...]}]; label -1 is nobody's.
"""

import json
import sys

from sklearn.cluster import HDBSCAN

asked = json.load(sys.stdin)
json.dump(
    [
        {"size": size, "labels": HDBSCAN(min_cluster_size=size).fit_predict(asked["rows"]).tolist()}
        for size in asked["sizes"]
    ],
    sys.stdout,
)
