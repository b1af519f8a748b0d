"""An arm as a product of exponentials (R. W. Brockett, 1984), written from the words of plan/FORMAT.md alone.

Lengths are in mm and angles in radians. Readings are arrays of shape (rows, joints), poses a pair of
arrays: rotations (rows, 3, 3) and positions (rows, 3), all rows worked out at once.
"""
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # rows are small: threads would only wait for each other
import numpy as np


def cross_matrix(v):
    m = np.zeros(v.shape[:-1] + (3, 3))
    m[..., 0, 1], m[..., 0, 2], m[..., 1, 2] = -v[..., 2], v[..., 1], -v[..., 0]
    return m - np.swapaxes(m, -1, -2)


def cross(a, b):
    """As np.cross, which is slow for few rows."""
    return np.stack([a[..., 1] * b[..., 2] - a[..., 2] * b[..., 1], a[..., 2] * b[..., 0] - a[..., 0] * b[..., 2], a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]], -1)


def solved(a, b):
    """Solutions of equations, by least squares where there are more of them than unknowns, or they are singular."""
    if a.shape[-1] == a.shape[-2]:
        try:
            return np.linalg.solve(a, b)
        except np.linalg.LinAlgError:
            pass
    return np.linalg.pinv(a, rcond=1e-12) @ b


def turned(v):
    """The rotation about each vector by its length."""
    v = np.asarray(v, float)
    angle = np.linalg.norm(v, axis=-1)[..., None, None]
    k = cross_matrix(v)
    half = np.sinc(angle / 2 / np.pi)
    return np.eye(3) + np.sinc(angle / np.pi) * k + half * half / 2 * (k @ k)


def vector(r):
    """The vector of a rotation: its axis, as long as its angle, which is less than half a turn."""
    skew = np.stack([r[..., 2, 1] - r[..., 1, 2], r[..., 0, 2] - r[..., 2, 0], r[..., 1, 0] - r[..., 0, 1]], -1) / 2
    sine = np.linalg.norm(skew, axis=-1)
    angle = np.arctan2(sine, (np.trace(r, axis1=-2, axis2=-1) - 1) / 2)
    return skew * np.where(sine > 1e-12, angle / np.maximum(sine, 1e-300), 1)[..., None]


def rpy(angles):
    """Roll, pitch and yaw in degrees about the fixed X, then Y, then Z axes."""
    roll, pitch, yaw = np.radians(np.asarray(angles, float))
    return turned(np.array([0, 0, yaw])) @ turned(np.array([0, pitch, 0])) @ turned(np.array([roll, 0, 0]))


def written(p, otherwise=(0, 0, 0)):
    """A pose as a cell writes it."""
    return rpy(p.get("rpy", otherwise)), np.array(p.get("at", (0, 0, 0)), float)


def times(a, b):
    return a[0] @ b[0], (a[0] @ b[1][..., None])[..., 0] + a[1]


class Chain:
    """The joints of an arm, and the pose of its flange with all of them at 0."""

    def __init__(self, arm):
        r, t = written(arm)
        self.names = [j.get("name", "J%d" % (i + 1)) for i, j in enumerate(arm["joints"])]
        self.slides = np.array(["slides" in j for j in arm["joints"]])
        ways = np.array([j.get("slides") or j["axis"] for j in arm["joints"]], float)
        self.axis = (ways / np.linalg.norm(ways, axis=1)[:, None]) @ r.T
        self.point = np.array([j.get("point", (0, 0, 0)) for j in arm["joints"]], float) @ r.T + t
        self.unit = np.where(self.slides, 1.0, np.pi / 180)  # of a reading as it is shown
        self.range = np.array([j["range"] for j in arm["joints"]], float)  # as they are shown
        self.flange = times((r, t), written(arm["flange"]))
        # the exponential of a joint's twist is 1 + first·f + second·g: f and g are sine and 1 - cosine, or the way and nothing
        self.first, self.second = np.zeros((2, len(ways), 4, 4))
        k = cross_matrix(self.axis)
        for i, slides in enumerate(self.slides):
            if slides:
                self.first[i, :3, 3] = self.axis[i]
                continue
            for m, square in (self.first, k[i]), (self.second, k[i] @ k[i]):
                m[i, :3, :3], m[i, :3, 3] = square, -square @ self.point[i]

    def moved(self, q):
        """What is behind each joint, moved: (rows, joints, 4, 4)."""
        f = np.where(self.slides, q, np.sin(q))[..., None, None]
        own = np.eye(4) + f * self.first + (1 - np.cos(q))[..., None, None] * self.second
        for i in range(1, own.shape[1]):
            own[:, i] = own[:, i - 1] @ own[:, i]
        return own

    def links(self, q):
        """Where what is behind each joint has been moved to, a pose for each joint."""
        moved = self.moved(q)
        return [(moved[:, i, :3, :3], moved[:, i, :3, 3]) for i in range(len(self.axis))]

    def forward(self, q, tool):
        """The pose of a tool's centre point."""
        last = self.moved(q)[:, -1]
        return times((last[:, :3, :3], last[:, :3, 3]), times(self.flange, tool))

    def jacobian(self, q, tool):
        """The pose, and by how much it moves and turns for each joint: (rows, 6, joints)."""
        moved = self.moved(q)
        at = times((moved[:, -1, :3, :3], moved[:, -1, :3, 3]), times(self.flange, tool))
        # a joint does not move its own axis
        axis = (moved[..., :3, :3] @ self.axis[..., None])[..., 0]
        arm = at[1][:, None] - (moved[..., :3, :3] @ self.point[..., None])[..., 0] - moved[..., :3, 3]
        turns = ~self.slides[:, None]
        return at, np.swapaxes(np.concatenate([np.where(turns, cross(axis, arm), axis), axis * turns], 2), 1, 2)

    def settle(self, q, at, tool, rounds=12, near=1e-9):
        """Newton's steps from q to a pose, as near as so many mm; of each row whether it got there. The first of seven joints stays."""
        first, scale = max(0, len(self.axis) - 6), np.array([1, 1, 1, 300, 300, 300.0])[:, None]
        q = q.copy()
        for _ in range(rounds):
            here, jacobian = self.jacobian(q, tool)
            off = np.concatenate([at[1] - here[1], vector(at[0] @ np.swapaxes(here[0], 1, 2))], 1)
            there = (np.abs(off[:, :3]).max(1) < near) & (np.abs(off[:, 3:]).max(1) < near / 100)
            if there.all():
                break
            step = solved(scale * jacobian[:, :, first:], scale * off[:, :, None])
            q[~there, first:] += np.clip(step[~there, :, 0], -30, 30)
        return q, there

    def shown(self, q):
        return q / self.unit

    def words(self, q):
        """The configuration of an arm whose last three axes meet and whose axis 2 is level, for each row."""
        up = self.axis[0] * np.sign(self.axis[0][2])
        wrist = meeting(self.point[4], self.axis[4], self.point[5], self.axis[5])
        middle = np.mean(self.range, axis=1) * self.unit

        def sides(q):
            links = self.links(q)
            move = lambda i, p: links[i][0] @ p + links[i][1]
            front = cross(links[0][0] @ self.axis[1], up)
            centre, three, two = move(2, wrist), move(1, self.point[2]), move(0, self.point[1])
            four = links[2][0] @ (self.axis[3] * np.sign(self.axis[3] @ (wrist - self.point[2])))
            six = links[4][0] @ (self.axis[5] * np.sign(self.axis[5] @ (self.flange[1] - wrist)))
            five = links[3][0] @ self.axis[4]
            shoulder = np.sum(front * (centre - self.point[0]), 1)
            # with the front to the right and up above, left of the way from axis 2 to the wrist
            elbow = np.sum(cross(front, up) * cross(centre - two, three - two), 1)
            return shoulder, elbow, np.sum(five * cross(four, six), 1)

        shoulder, elbow, bent = sides(q)
        facing = np.sign(sides(middle[None])[0][0])
        words = zip(shoulder * facing > 0, elbow * facing > 0, bent > 0)
        return ["%s %s %s" % ("front" if a else "back", "up" if b else "down", "up" if c else "down") for a, b, c in words]


def meeting(p, a, q, b):
    """The point in which two axes meet."""
    s = np.linalg.lstsq(np.stack([a, -b], 1), q - p, rcond=None)[0]
    return p + s[0] * a


def frames(cell):
    """Every frame in the base."""
    def placed(name):
        if name == "base":
            return np.eye(3), np.zeros(3)
        f = cell["frames"][name]
        return times(placed(f.get("parent", "base")), written(f))
    return {name: placed(name) for name in ["base", *cell.get("frames", {})]}


def tools(cell):
    """The centre point of every tool, and of every zone of one."""
    all = {}
    for name, t in cell["tools"].items():
        all[name] = written(t["tcp"])
        for zone, z in t.get("zones", {}).items():
            all[name + " " + zone] = times(written(t["tcp"]), written(z))
    return all


def line(start, end):
    """The straight way between poses, a row each: share by share, evenly, turning the short way about one axis."""
    turn = vector(end[0] @ np.swapaxes(start[0], 1, 2))
    return lambda share: (turned(turn * share) @ start[0], start[1] + share * (end[1] - start[1]))


def follow(chain, tool, q, end, pieces, rail=None):
    """Readings along straight lines, by Newton's steps from piece to piece. It gives those at each piece's end, and of
    each row whether it went so far without a jump. A rail slides evenly to where it ends."""
    at, ok, passed, before = line(chain.forward(q, tool), end), np.ones(len(q), bool), [q], q
    for k in range(1, pieces + 1):
        guess = 2 * q - before
        if rail is not None:
            guess[:, 0] = passed[0][:, 0] + (rail - passed[0][:, 0]) * k / pieces
        before = q
        q, there = chain.settle(guess, at(k / pieces), tool, near=1e-9 if k == pieces else 1e-4)
        ok &= there & (np.abs(np.where(chain.slides, 0, q - guess)) < 0.1).all(1)
        passed.append(q)
    return passed, ok
