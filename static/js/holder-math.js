/* What the turntable reckons: a binary STL taken apart, and the 4 x 4 matrix (by columns, as WebGL wants it) of a view. */

const holderMath = {
  /* Corners and facet normals of a binary STL, six numbers a corner, moved to the middle; and the farthest corner. */
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
    return { data, corners: count * 3, reach: Math.hypot(...high.map((value, axis) => value - middle[axis])) };
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
    return { matrix, rows };
  },
};
