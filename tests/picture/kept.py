"""A plane and a pick as a picture keeps them, for tests that read no picture."""

PLANE = {
    "camera": [[4000.0, 2000.0, 1500.0, 0, 0, 0, 0, 0, 0, 230.0], [[0.0] * 10] * 10, 0.1, 90, [4000, 3000]],
    "bars": [140.1, 139.9, 0.03],
    "height": [0.4, 0.1],
    "print": 1,
    "half": 27.0,
    "scale": 18.0,
}
HOLE = {
    "key": "hole",
    "values": [0.8, -0.6, 1.0],
    "sway": [[0.0] * 13] * 3,
    "own": [[1e-6, 0, 0], [0, 1e-6, 0], [0, 0, 1e-6]],
    "fit": 0.004,
    "share": 1.0,
    "proposed": False,
}
