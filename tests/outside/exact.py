"""Whether two triangles truly cross, by exact arithmetic: floating point alone suspects faces that lie nearly in one plane."""
from fractions import Fraction


def exactly(point):
    """A point in numbers without rounding."""
    return tuple(Fraction(float(x)) for x in point)


def side(a, b, c, d):
    """Sign of the volume of a, b, c, d; 0 in one plane."""
    u, v, w = (tuple(p[k] - d[k] for k in range(3)) for p in (a, b, c))
    volume = (
        u[0] * (v[1] * w[2] - v[2] * w[1]) - u[1] * (v[0] * w[2] - v[2] * w[0]) + u[2] * (v[0] * w[1] - v[1] * w[0])
    )
    return (volume > 0) - (volume < 0)


def turn(p, q, r):
    """Sign of the area of p, q, r in a plane."""
    area = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    return (area > 0) - (area < 0)


def within(p, triangle):
    """A point in a triangle of the same plane, border included."""
    signs = {turn(triangle[k], triangle[(k + 1) % 3], p) for k in range(3)}
    return not {1, -1} <= signs


def meet_in_plane(p, q, r, s):
    """Two segments of one plane that share a point."""
    def on(a, b, c):
        return turn(a, b, c) == 0 and all(min(a[k], b[k]) <= c[k] <= max(a[k], b[k]) for k in range(2))

    crossing = turn(p, q, r) * turn(p, q, s) < 0 and turn(r, s, p) * turn(r, s, q) < 0
    return crossing or on(p, q, r) or on(p, q, s) or on(r, s, p) or on(r, s, q)


def flat(points, triangle):
    """Points and triangle of one plane without the coordinate along which the triangle is thinnest to see."""
    a, b, c = triangle
    u, v = (tuple(p[k] - a[k] for k in range(3)) for p in (b, c))
    normal = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    drop = max(range(3), key=lambda k: abs(normal[k]))
    kept = [k for k in range(3) if k != drop]
    cut = lambda p: tuple(p[k] for k in kept)
    return [cut(p) for p in points], [cut(p) for p in triangle]


def pierces(p, q, triangle):
    """Whether a segment shares a point with a triangle."""
    a, b, c = triangle
    at = (side(a, b, c, p), side(a, b, c, q))
    if at[0] * at[1] > 0:
        return False
    if at == (0, 0):
        (p, q), corners = flat((p, q), triangle)
        edges = [(corners[k], corners[(k + 1) % 3]) for k in range(3)]
        return within(p, corners) or any(meet_in_plane(p, q, r, s) for r, s in edges)
    signs = {side(p, q, a, b), side(p, q, b, c), side(p, q, c, a)}
    return not {1, -1} <= signs


def cross(first, second):
    """Whether two triangles share more than the corners or the edge that they have in common. Points are exact."""
    common = [p for p in first if p in second]
    if len(common) == 3:
        return True
    if len(common) == 2:
        (a,), (b,) = ([p for p in t if p not in common] for t in (first, second))
        if side(*common, a, b):
            return False
        (c, d, a, b), _ = flat((*common, a, b), first)
        return turn(c, d, a) * turn(c, d, b) > 0
    edges = lambda t: [(t[k], t[(k + 1) % 3]) for k in range(3)]
    free = lambda t: [e for e in edges(t) if not set(e) & set(common)]
    return any(pierces(*e, second) for e in free(first)) or any(pierces(*e, first) for e in free(second))


def confirmed(points, faces, suspects):
    """Of the faces that are suspected to cross another, those that do."""
    low, high = points[faces].min(axis=1), points[faces].max(axis=1)
    out = []
    for i in suspects:
        near = ((low <= high[i]) & (high >= low[i])).all(axis=1).nonzero()[0]
        own = [exactly(p) for p in points[faces[i]]]
        if any(cross(own, [exactly(p) for p in points[faces[j]]]) for j in near if j != i):
            out.append(i)
    return out
