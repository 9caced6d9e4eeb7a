/* What the turntable reckons: a binary STL taken apart, the 4 x 4 matrix (by columns, as WebGL wants it) of a view, where
   a point of the piece stands on the canvas, and which point stands under a spot of it. */

const holderMath = {
  /* Corners and facet normals of a binary STL, six numbers a corner, moved to the middle; the middle, and the ends. */
  facets(buffer) {
    const view = new DataView(buffer);
    const count = view.getUint32(80, true);
    const data = new Float32Array(count * 18);
    const low = [Infinity, Infinity, Infinity];
    const high = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < count; i++) {
      for (let corner = 0; corner < 3; corner++) {
        for (let axis = 0; axis < 3; axis++) {
          const value = view.getFloat32(84 + 50 * i + 12 + 12 * corner + 4 * axis, true);
          data[18 * i + 6 * corner + axis] = value;
          data[18 * i + 6 * corner + 3 + axis] = view.getFloat32(84 + 50 * i + 4 * axis, true);
          low[axis] = Math.min(low[axis], value);
          high[axis] = Math.max(high[axis], value);
        }
      }
    }
    const middle = low.map((value, axis) => (value + high[axis]) / 2);
    for (let i = 0; i < data.length; i += 6) for (let axis = 0; axis < 3; axis++) data[i + axis] -= middle[axis];
    const half = high.map((value, axis) => value - middle[axis]);
    return { data, middle, half, corners: count * 3, reach: Math.hypot(...half) };
  },

  /* Turned by `turn` about the piece's axis, tipped by `tip`, seen without perspective in a window of that aspect. */
  view(turn, tip, zoom, reach, aspect) {
    const [s, c, t, u] = [Math.sin(turn), Math.cos(turn), Math.sin(tip), Math.cos(tip)];
    const scale = zoom / reach;
    const rows = [
      [c, -s, 0],
      [s * t, c * t, u],
      [-s * u, -c * u, t],
    ];
    const size = [scale / aspect, scale, -scale / 2];
    const matrix = new Float32Array(16);
    rows.forEach((row, i) => row.forEach((value, j) => (matrix[4 * j + i] = value * size[i])));
    matrix[15] = 1;
    return { matrix, rows, size };
  },

  /* Where a point stands: x and y as shares of the window from its upper left, and how near it is. */
  placed(seen, point) {
    const [x, y, near] = seen.rows.map((row) => row[0] * point[0] + row[1] * point[1] + row[2] * point[2]);
    return [(x * seen.size[0] + 1) / 2, (1 - y * seen.size[1]) / 2, near];
  },

  /* Whether the cut takes a point away: `cut` has its axis, the side it comes from, and how far it has come. */
  isCut(cut, point) {
    return cut.from * point[cut.axis] > cut.at;
  },

  /* The point of the piece under a spot of the window, null beside it; a corner within `snap` (a share) is taken. */
  under(seen, mesh, x, y, cut, snap) {
    let best = null;
    for (let i = 0; i < mesh.data.length; i += 18) {
      const corners = [0, 6, 12].map((step) => [...mesh.data.subarray(i + step, i + step + 3)]);
      const [a, b, c] = corners.map((corner) => holderMath.placed(seen, corner));
      const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
      if (Math.abs(area) < 1e-12) continue;
      const second = ((x - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (y - a[1])) / area;
      const third = ((b[0] - a[0]) * (y - a[1]) - (x - a[0]) * (b[1] - a[1])) / area;
      const first = 1 - second - third;
      if (first < 0 || second < 0 || third < 0) continue;
      const near = first * a[2] + second * b[2] + third * c[2];
      if (best && near <= best.near) continue;
      const point = [0, 1, 2].map((k) => first * corners[0][k] + second * corners[1][k] + third * corners[2][k]);
      if (!holderMath.isCut(cut, point)) best = { near, point, corners, spots: [a, b, c] };
    }
    if (!best) return null;
    const far = best.spots.map((spot) => Math.hypot(spot[0] - x, spot[1] - y));
    const nearest = far.indexOf(Math.min(...far));
    return far[nearest] < snap && !holderMath.isCut(cut, best.corners[nearest]) ? best.corners[nearest] : best.point;
  },
};
