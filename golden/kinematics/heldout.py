"""Makes plans of which it knows by kinematics of its own whether they can be carried out: some that break one rule by a clear
margin, and some that keep every rule by a margin that is as small.

It reads {"seed": …, "count": …} and prints a list of plans, every second one faulty: {"kind", "faulty", "why", "plan",
"targets"}, the targets of all motions in order. Between the ends of motions it looks every 0.1 mm of a straight and every 0.05 degrees of a travel.
"""
import itertools, json, sys

FINE, STEP = 0.1, 0.05  # mm along a straight, degrees of the joint that goes farthest on a travel
NEAR = 80.0  # mm/s along every straight


class Unfit(Exception):
    """What was drawn does not do: another one is drawn."""


def fit(ok):
    if not ok:
        raise Unfit


def numbers(v):
    return [round(float(x), 9) + 0 for x in v]


def to_rpy(r):
    pitch = np.arctan2(-r[2, 0], np.hypot(r[0, 0], r[1, 0]))
    return numbers(np.degrees([np.arctan2(r[2, 1], r[2, 2]), pitch, np.arctan2(r[1, 0], r[0, 0])]))


def spherical(d):
    out, base, upper, rise, fore, hand = d.uniform([0, 260, 260, 0, 280, 60], [90, 360, 360, 60, 380, 110]).round(2)
    elbow, wrist = base + upper, base + upper + rise
    rows = [([0, 0, 1], [0, 0, 0], 0), ([0, 1, 0], [out, 0, base], 0), ([0, 1, 0], [out, 0, elbow], 0), ([1, 0, 0], [out, 0, wrist], 0),
            ([0, 1, 0], [out + fore, 0, wrist], 90), ([1, 0, 0], [0, 0, wrist], 0)]
    ends = [[out, 0, base], [out, 0, elbow], [out, 0, wrist], [out + fore, 0, wrist]]
    return rows, {"at": [out + fore + hand, 0, wrist], "rpy": [0, 90, 0]}, ends


def parallel(d):
    base, upper, fore, side, drop, hand = d.uniform([120, 320, 300, 90, 70, 60], [220, 420, 400, 130, 110, 110]).round(2)
    x = upper + fore
    rows = [([0, 0, 1], [0, 0, 0], 0), ([0, 1, 0], [0, 0, base], -80), ([0, 1, 0], [upper, 0, base], 90), ([0, 1, 0], [x, 0, base], -100),
            ([0, 0, -1], [x, side, base], -90), ([0, 1, 0], [x, side, base - drop], 0)]
    return rows, {"at": [x, side + hand, base - drop], "rpy": [-90, 0, 0]}, [[0, 0, base], [upper, 0, base], [upper, 0, base], [x, 0, base]]


class Job:
    """A plan as it grows: an arm, a tool, and motions one behind the other."""

    def __init__(self, d, of=(spherical,)):
        self.d, self.kind = d, of[d.integers(len(of))]
        rows, flange, self.ends = self.kind(d)
        self.arm = {"at": numbers(d.uniform(-300, 300, 3).round(2)), "rpy": [0, 0, round(d.uniform(-180, 180), 3)], "flange": flange, "joints": []}
        clear = []
        for axis, point, at in rows:
            sign = d.choice([-1, 1])
            self.arm["joints"].append({"axis": [int(sign * a) for a in axis], "point": [round(float(p), 3) for p in point], "range": [-720, 720], "speed": 1000})
            clear.append(sign * at + round(d.uniform(-12, 12), 3))
        self.tcp = {"at": numbers(d.uniform([-20, -20, 60], [20, 20, 140]).round(2)), "rpy": [0, 0, round(d.uniform(-180, 180), 3)]}
        self.tool = written(self.tcp)
        self.chain = Chain(self.arm)
        self.poses, self.frames, self.grids, self.begin, self.motions, self.boxes = {}, {}, {}, [], [], {}
        self.links, self.budget, self.worded = [], None, self.kind is spherical
        self.clear = np.array(clear)
        self.given("clear", self.clear)

    # What is read back from the written numbers is what counts.

    def given(self, name, shown):
        """A pose by readings."""
        self.poses[name] = {"joints": numbers(shown)}
        return np.array(self.poses[name]["joints"])

    def at(self, shown):
        p = self.chain.forward(np.radians(np.array(shown, float))[None], self.tool)
        return p[0][0], p[1][0]

    def posed(self, name, pose):
        """A pose by where the tool's centre point is."""
        self.poses[name] = {"at": numbers(pose[1]), "rpy": to_rpy(pose[0])}
        return written(self.poses[name])

    def along(self, shown, pose, fine=False, every=4):
        """Readings along the straight line to a pose, every 0.1 mm where it is to be fine; and how far each is from the next in mm."""
        start = self.at(shown)
        row = tuple(x[None] for x in start), tuple(x[None] for x in pose)
        way = np.linalg.norm(pose[1] - start[1])
        turn = np.degrees(np.linalg.norm(vector((pose[0] @ start[0].T)[None])))
        q = np.radians(np.array(shown, float))[None]
        pieces = int(max(6, way / every, turn / every))
        passed, ok = follow(self.chain, self.tool, q, row[1], pieces)
        if not ok.all():
            pieces *= 5
            passed, ok = follow(self.chain, self.tool, q, row[1], pieces)
        fit(ok.all())
        passed = np.array(passed)[:, 0]
        if not fine:
            return np.degrees(passed), way / pieces
        count = int(np.ceil(max(way / FINE, turn / 0.1)))
        shares = np.linspace(0, 1, count + 1)
        guess = np.stack([np.interp(shares, np.linspace(0, 1, pieces + 1), column) for column in passed.T], 1)
        r, t = line(*row)(shares[:, None])
        exact, there = self.chain.settle(guess, (r, t), self.tool)
        fit(there.all() and np.abs(exact - guess).max() < 0.05)
        return np.degrees(exact), way / count

    def go(self, name):
        self.begin.append({"go": name})

    def line(self, name):
        self.begin.append({"line": name})

    def slot(self, name, approach):
        """A grid of one slot somewhere before the arm, and where the arm stands above it and in it."""
        d = self.d
        yaw = np.radians(self.arm["rpy"][2] + d.uniform(-45, 45))
        far = d.uniform(330, 500)
        at = np.array(self.arm["at"]) + [far * np.cos(yaw), far * np.sin(yaw), d.uniform(60, 180)]
        frame = rpy([*d.uniform(-10, 10, 2), d.uniform(-180, 180)]), at
        self.frames[name] = {"at": numbers(frame[1]), "rpy": to_rpy(frame[0])}
        self.grids[name] = {"frame": name, "rows": 1, "columns": 1, "pitch": [0, 0], "first": [0, 0, 0], "part": "peg"}
        slot = times(written(self.frames[name]), (rpy([180, 0, 0]), np.zeros(3)))
        above = slot[0], slot[1] + written(self.frames[name])[0] @ np.array([0, 0, approach])
        over, _ = self.along(self.clear, above, every=20)
        down, _ = self.along(over[-1], slot, every=10)
        return (above, over[-1]), (slot, down[-1])

    def work(self):
        """The transfer from one grid to another one, with all motions of the plan in order: kind, target, readings, pose."""
        approach = round(self.d.uniform(40, 130), 1)
        self.approach = approach
        self.motions = [("travel", "clear", self.clear)]
        for step in self.begin:
            (kind, name), = step.items()
            self.motions.append(("travel" if kind == "go" else "straight", name, self.place(name)))
        for name in "here", "there":
            if self.motions[-1][1] != "clear":
                self.motions.append(("travel", "clear", self.clear))
            above, slot = self.slot(name, approach)
            self.motions += [("travel", name + " A1 approach", above[1]), ("straight", name + " A1", slot[0]), ("straight", name + " A1 approach", above[0])]
        self.motions.append(("travel", "clear", self.clear))

    def place(self, name):
        """Readings, or a pose that a straight leads to."""
        p = self.poses[name]
        return np.array(p["joints"]) if "joints" in p else written(p)

    def walk(self, fine=True):
        """All readings along all motions: a list of (kind, target, samples, mm between two); on a straight to readings it has to arrive there."""
        now, walked, known = None, [], {}
        for kind, target, to in self.motions:
            if kind == "travel":
                if now is not None:
                    pieces = int(np.ceil(np.abs(to - now).max() / STEP)) + 1
                    samples = now + (to - now) * np.linspace(0, 1, pieces + 1)[:, None]
                else:
                    samples = to[None]
                walked.append((kind, target, samples, 0))
            else:
                pose = self.at(to) if isinstance(to, np.ndarray) else to
                key = now.tobytes(), target
                if key not in known:
                    known[key] = self.along(now, pose, fine)
                samples, step = known[key]
                walked.append((kind, target, samples, step))
                if isinstance(to, np.ndarray):
                    fit(np.abs(samples[-1] - to).max() < 1e-6)
                    samples[-1] = to
            now = walked[-1][2][-1]
        return walked

    def ranges(self, walked, least=8, width=350):
        """Ranges in which every reading lies by a margin."""
        for i, j in enumerate(self.arm["joints"]):
            lo, hi = min(w[2][:, i].min() for w in walked), max(w[2][:, i].max() for w in walked)
            room = width - (hi - lo)
            fit(room > 2 * least + 1)
            j["range"] = numbers([(lo - self.d.uniform(least, min(room / 2, 70))).round(2), (hi + self.d.uniform(least, min(room / 2, 70))).round(2)])
        self.chain = Chain(self.arm)

    def same_words(self, walked):
        words = {w for one in walked for w in self.chain.words(np.radians(one[2][:: max(1, len(one[2]) // 50)]))}
        return words.pop() if len(words) == 1 else None

    def paces(self, walked):
        """The greatest pace of each joint on any straight, in degrees for a mm."""
        return np.max([np.abs(np.diff(s, axis=0)).max(0) / step for kind, _, s, step in walked if kind == "straight"], axis=0)

    def speeds(self, walked):
        """Speeds that no joint comes near to."""
        for j, pace in zip(self.arm["joints"], self.paces(walked)):
            j["speed"] = float(np.ceil(pace * NEAR * self.d.uniform(1.12, 2) + 5))

    def sign(self, joint):
        """1, or -1 where the joint turns the other way round than it is drawn."""
        return float(np.sign(sum(self.arm["joints"][joint]["axis"])))

    def straightened(self):
        """The reading of joint 3 at which the way from axis 2 to the wrist is longest."""
        two, three, far = (np.array(self.ends[k], float) for k in (0, 1, 3))
        upper, fore = three - two, far - three
        return self.sign(2) * np.degrees(np.arctan2(fore[2], fore[0]) - np.arctan2(upper[2], upper[0]))

    def plan(self, configuration):
        motion = {"tool": "jaw", "approach": self.approach, "speed": {"travel": 300, "near": NEAR}, "fly_by": 0, "clear": "clear"}
        if configuration:
            motion["configuration"] = configuration
        arm = dict(self.arm)
        if self.links:
            arm["links"] = dict(self.links)
        if self.budget is not None:
            arm["winding"] = self.budget
        act = lambda level: {"output": 1, "level": level, "settle": 0.2}
        plan = {"format": "gridferry plan 1",
                "cell": {"format": "gridferry cell 1", "name": "bench", "arm": arm, "poses": self.poses, "frames": self.frames, "keep_out": self.boxes,
                         "tools": {"jaw": {"tcp": self.tcp, "mass": 0.5, "grip": act("on"), "release": act("off")}}},
                "parts": {"peg": {"mass": 0.1}}, "grids": self.grids, "motion": motion, "transfers": [{"from": "here", "to": "there"}]}
        self.grids["here"]["filled"] = "all"
        if self.begin:
            plan["begin"] = self.begin
        return plan


# A kind makes a job and says what is wrong with it: it is called with whether it is to be faulty, and gives the job, its
# configuration, and a line that says by how much.

def out_of_range(d, faulty):
    """A joint that leaves its range by 1 to 3 degrees, or keeps as far inside; where it can be, between the ends of a straight."""
    j = Job(d)
    bowed(j)
    j.work()
    walked = j.walk()
    j.ranges(walked)
    fixed = np.array([p["joints"] for p in j.poses.values() if "joints" in p])
    stops = np.array([w[2][-1] for w in walked])
    straights = np.concatenate([s for kind, _, s, _ in walked if kind == "straight"])
    cuts = []
    for i in range(6):
        for side in -1, 1:
            most, given, end = ((side * a[:, i]).max() for a in (straights, fixed, stops))
            by = d.uniform(1.0, 3.0)
            if most - by > given + 0.5:
                cuts.append((most - by > end + 0.3, i, side, most, by))
    fit(cuts)
    between = [c for c in cuts if c[0]]
    cut = (between or cuts)[d.integers(len(between or cuts))]
    _, i, side, most, by = cut
    end = side * (most - by if faulty else most + by)
    ends = j.arm["joints"][i]["range"]
    ends[(side + 1) // 2] = round(float(end), 3)
    fit(ends[1] - ends[0] > 30)
    j.chain = Chain(j.arm)
    j.speeds(walked)
    words = j.same_words(walked)
    fit(words)
    return j, words, "%s %s by %.2f degrees%s" % ("J%d" % (i + 1), "is out" if faulty else "keeps in", by, " between the ends of a straight" if cut[0] else "")


def bowed(j):
    """Lines past the arm, on which joints come farthest somewhere in the middle."""
    d = j.d
    for k in range(d.integers(1, 3)):
        r, t = j.at(j.clear)
        side = rpy([0, 0, j.arm["rpy"][2]]) @ np.array([0, 1.0, 0])
        off = d.uniform([-80, -60, -250], [80, 60, 0])
        half = d.uniform(60, 200) * side + d.uniform(-40, 40, 3)
        one, two = "left%d" % k, "right%d" % k
        lean = rpy(d.uniform(-15, 15, 3))
        over, _ = j.along(j.clear, (lean @ r, t + off - half), every=20)
        first = j.given(one, over[-1])
        far, _ = j.along(first, (rpy(d.uniform(-15, 15, 3)) @ r, t + off + half), every=10)
        j.given(two, far[-1])
        j.go(one)
        j.line(two)


def flip(d, faulty):
    """A straight that ends in another configuration or, where the range of a joint ends on it, on another turn of that joint."""
    if d.random() < 0.5:
        return wrapped(d, faulty)
    j = Job(d)
    bowed(j)
    j.work()
    walked = j.walk()
    words = j.same_words(walked)
    kept = dict(j.poses)
    if faulty:
        name = j.begin[-1]["line"]
        other = another(j, np.array(j.poses[name]["joints"]))
        kept[name] = {"joints": numbers(other)}
        walked = walked + [("travel", "", other[None], 0)]
    j.ranges(walked, width=700)
    words = j.same_words(walked[:-1] if faulty else walked)
    fit(words)
    j.poses = kept
    j.speeds(walked)
    return j, None if faulty else words, "to the same pose in another configuration" if faulty else "in one configuration"


def another(j, shown):
    """Other readings at the same pose: the wrist the other way round, or what Newton's steps find from elsewhere."""
    d, pose = j.d, tuple(x[None] for x in j.at(shown))
    for _ in range(40):
        start = np.array(shown)
        if d.random() < 0.3:
            start[3:] = start[3] + d.choice([-180, 180]), -start[4], start[5] + d.choice([-180, 180])
        else:
            start += d.uniform(-120, 120, 6)
        q, there = j.chain.settle(np.radians(start)[None], pose, j.tool, rounds=40)
        found = np.degrees(q[0])
        found = (found + 180) % 360 - 180
        if there[0] and np.abs((found - shown + 180) % 360 - 180).max() > 20 and np.abs(np.abs(found) - 180).min() > 3:
            return found
    raise Unfit


def wrapped(d, faulty):
    """The last joint, or joint 4, comes to an end of its range on the way down, and lies inside at either end, on different turns."""
    j = Job(d)
    bowed(j)
    j.work()
    walked = j.walk()
    j.ranges(walked)
    turning = []
    for kind, target, s, _ in walked:
        if kind == "straight" and target in j.poses:
            for i in 3, 5:
                if abs(s[-1, i] - s[0, i]) > 8:
                    turning.append((i, s, target))
    fit(turning)
    i, s, target = turning[d.integers(len(turning))]
    if faulty:
        # the pose at its end is given by where the tool is, so that the turn is free
        side = np.sign(s[-1, i] - s[0, i])
        cut = s[0, i] + (s[-1, i] - s[0, i]) * d.uniform(0.3, 0.7)
        fit(abs(s[-1, i] - cut) > 2 and abs(s[0, i] - cut) > 2)
        given = np.array([p["joints"][i] for name, p in j.poses.items() if name != target])
        fit((side * given < side * cut - 1).all())  # of all others the turn is free
        far = s[-1, i] - 360 * side - side * d.uniform(5, 20)
        j.arm["joints"][i]["range"] = sorted(numbers([cut, far]))
        j.chain = Chain(j.arm)
    j.motions[[m[1] for m in j.motions].index(target)] = ("straight", target, j.posed(target, j.at(s[-1])))
    j.speeds(walked)
    words = j.same_words(walked)
    fit(words)
    return j, words, "J%d %s on the straight to %s" % (i + 1, "comes to the end of its range" if faulty else "goes on", target)


def singular(d, faulty):
    """A line that passes so near to a singular place that a joint is 1.1 to 1.5 times as fast as it can be, or 0.7 to 0.9 times."""
    j = Job(d, (spherical, spherical, parallel))
    near = np.array(j.clear)
    which = d.integers(3)
    if which == 0:
        near[4] = d.uniform(0.7, 6) * d.choice([-1, 1])
        near[1] += d.uniform(-10, 40) * j.sign(1)
        near[2] += d.uniform(0, 50) * j.sign(2)
        near[3] += d.uniform(-60, 60)
    elif which == 1:
        near[2] = j.straightened() + d.uniform(1.5, 6) * d.choice([-1, 1])
        near[1] += d.uniform(20, 60) * j.sign(1)
    else:
        fit(j.kind is spherical)
        near[1] -= d.uniform(20, 40) * j.sign(1)
        near[2] += d.uniform(-60, -30) * j.sign(2)
    j.given("middle", near)
    r, t = j.at(near)
    way = d.normal(size=3)
    way *= d.uniform(40, 90) / np.linalg.norm(way)
    turn = rpy(d.uniform(-4, 4, 3))
    del j.poses["middle"]
    back, _ = j.along(near, (turn.T @ r, t - way))
    first = j.given("first", back[-1])
    on, step = j.along(first, (turn @ r, t + way))
    fit(np.abs(np.diff(on, axis=0)).max() / step > 0.5)
    j.given("last", on[-1])
    j.go("first")
    j.line("last")
    j.work()
    walked = j.walk()
    j.ranges(walked, width=700)
    j.speeds(walked)
    (kind, _, s, step), = [w for w in walked if w[1] == "last"]
    fit(np.abs(s[-1] - s[0]).max() < 175)  # of a joint that turns farther on a straight, plans say nothing but the nearest turn
    pace = np.abs(np.diff(s, axis=0)).max(0) / step
    i = int(pace.argmax())
    fit(pace[i] > 0.7 and (np.abs(np.diff(s, axis=0)).max() < 8))
    share = d.uniform(1.1, 1.5) if faulty else d.uniform(0.7, 0.9)
    j.arm["joints"][i]["speed"] = round(float(pace[i] * NEAR / share), 6)
    fit((j.paces([w for w in walked if w[1] != "last"]) * NEAR < 0.9 * np.array([x["speed"] for x in j.arm["joints"]])).all())
    words = None
    if j.worded:
        words = j.same_words(walked)
        fit(words)
    return j, words, "J%d at %.2f times its speed, %.1f degrees for a mm" % (i + 1, share, pace[i])


def elbow(d, faulty):
    """A box into which a link reaches by 2 to 12 mm between the ends of a travel, or from which every link keeps 2 to 12 mm away."""
    j = Job(d, (spherical, parallel))
    a = np.array(j.clear)
    one = j.given("one", a + d.uniform([-70, -25, -35, -60, -30, -90], [70, 25, 35, 60, 30, 90]))
    two = j.given("two", a + d.uniform([-70, -25, -35, -60, -30, -90], [70, 25, 35, 60, 30, 90]))
    j.go("one")
    j.go("two")
    j.work()
    walked = j.walk()
    j.ranges(walked, width=700)
    j.speeds(walked)
    words = j.same_words(walked) if j.worded else None
    fit(words or not j.worded)
    names = ["J%d" % (i + 1) for i in range(6)]
    fat = d.uniform(25, 60, 2).round(1)
    j.links = [(names[1], [{"capsule": {"from": numbers(j.ends[0]), "to": numbers(j.ends[1]), "radius": float(fat[0])}}]),
               (names[2], [{"capsule": {"from": numbers(j.ends[2]), "to": numbers(j.ends[3]), "radius": float(fat[1])}}])]
    place = written(j.arm)
    rows = [(1, j.ends[0], j.ends[1], fat[0]), (2, j.ends[2], j.ends[3], fat[1])]
    samples = np.concatenate([w[2] for w in walked])
    spans, at = {}, 0
    for n, w in enumerate(walked):
        spans[n] = slice(at, at + len(w[2]))
        at += len(w[2])
    moved = j.chain.links(np.radians(samples))
    tool = j.chain.forward(np.radians(samples), j.tool)
    flange = times(moved[-1], j.chain.flange)
    capsules = []
    for link, p, q, radius in rows:
        p, q = (place[0] @ np.array(x, float) + place[1] for x in (p, q))
        capsules.append(((moved[link][0] @ p + moved[link][1]), (moved[link][0] @ q + moved[link][1]), radius))
    travel = next(n for n, w in enumerate(walked) if w[1] == "two")
    inside = spans[travel]
    roughly = slice(inside.start, inside.stop, 8)
    for _ in range(30):
        # a box beside the elbow or the forearm, somewhere on the way between the two poses
        k = d.integers(2)
        n = d.integers(inside.start + (inside.stop - inside.start) // 5, inside.stop - (inside.stop - inside.start) // 5)
        p = capsules[k][0][n] + d.uniform(0.1, 1) * (capsules[k][1][n] - capsules[k][0][n])
        half = d.uniform(10, 60, 3)
        box = rpy(d.uniform(-180, 180, 3)), p
        axis = d.integers(3)
        want = -d.uniform(2, 12) if faulty else d.uniform(2, 12)
        centre = p + box[0][:, axis] * d.choice([-1, 1]) * (half[axis] + capsules[k][2])
        # moved until the gap is what is wanted
        out = (centre - p) / np.linalg.norm(centre - p)
        for _ in range(12):
            now = min(gap(c, (box[0], centre), half, roughly).min() for c in capsules)
            if abs(now - want) < 0.05:
                break
            centre = centre + out * (want - now) * 0.9
        frame = {"at": numbers(centre), "rpy": to_rpy(box[0])}
        box = written(frame)
        half = half.round(2)
        gaps = [gap(c, box, half, slice(None)) for c in capsules] + [gap((flange[1], tool[1], 12.0), box, half, slice(None))]
        ends = min(g[spans[m].stop - 1] for g in gaps for m in spans)
        worst = min(g.min() for g in gaps[:2])
        others = min(g[spans[m]].min() for g in gaps for m in spans if m != travel)
        if faulty and -14 < worst < -2 and ends > 2 and gaps[2].min() > 2 or not faulty and min(worst, gaps[2].min(), others) > 2 and worst < 14:
            j.frames["wall"] = frame
            j.boxes = {"wall": {"frame": "wall", "from": numbers(-half), "to": numbers(half)}}
            return j, words, "%.2f mm from the box" % worst
    raise Unfit


def gap(capsule, box, half, which):
    """How far capsules are from a box, less than 0 where they reach into it: no deeper than that counts where the middle line does."""
    p, q, radius = capsule[0][which], capsule[1][which], capsule[2]
    p, q = ((x - box[1]) @ box[0] for x in (p, q))

    def away(t):
        x = p + t[:, None] * (q - p)
        return np.linalg.norm(np.maximum(np.abs(x) - half, 0), axis=1)
    lo, hi = np.zeros(len(p)), np.ones(len(p))
    for _ in range(30):  # the distance of a point from a convex body is convex along a line
        a, b = lo + (hi - lo) / 3, hi - (hi - lo) / 3
        left = away(a) < away(b)
        lo, hi = np.where(left, lo, a), np.where(left, b, hi)
    return np.minimum(away((lo + hi) / 2), np.minimum(away(np.zeros(len(p))), away(np.ones(len(p))))) - radius


def wound(d, faulty):
    """Lines on which the tool turns farther and farther: the last joint comes 1 to 30 degrees over what cables bear, or stays as far below."""
    j = Job(d, (spherical, parallel))
    r, t = j.at(j.clear)
    start, _ = j.along(j.clear, every=15, pose=(rpy([0, 0, d.uniform(-90, 90)]) @ r, t + d.uniform(-60, 60, 3)))
    j.given("turn0", start[-1])
    j.go("turn0")
    now, sense = start[-1], d.choice([-1, 1])
    spin = j.at(now)[0][:, 2]
    for k in range(1, d.integers(3, 6)):
        r, t = j.at(now)
        to = j.posed("turn%d" % k, (turned(spin * np.radians(sense * d.uniform(70, 150))) @ r, t + d.uniform(-25, 25, 3)))
        on, _ = j.along(now, to, every=10)
        now = on[-1]
        j.line("turn%d" % k)
    j.work()
    walked = j.walk()
    j.ranges(walked, width=1400)
    fit(certain(j, walked))
    j.speeds(walked)
    words = j.same_words(walked) if j.worded else None
    fit(words or not j.worded)
    first = walked[0][2][-1, 5]
    most = max(abs(w[2][-1, 5] - first) for w in walked)
    by = d.uniform(1, 30)
    j.budget = round(float(most - by if faulty else most + by), 3)
    fit(j.budget > 20)
    return j, words, "wound by %.1f degrees, of %.1f" % (most, j.budget)


def certain(j, walked):
    """Whether the turns of the joints are those of the least way, and no others come near to it."""
    for i in range(6):
        lo, hi = j.arm["joints"][i]["range"]
        groups, now = [], []
        for kind, target, s, _ in walked:
            if kind == "travel" or not now:
                now = []
                groups.append(now)
            now.append((s[-1, i], target in j.poses and "joints" in j.poses[target]))
        shifts = [[0] if any(g for _, g in group) else [k for k in (-720, -360, 0, 360, 720) if all(lo <= v + k <= hi for v, _ in group)] for group in groups]
        ways = []
        for chosen in itertools.product(*shifts):
            readings = [v + k for group, k in zip(groups, chosen) for v, _ in group]
            ways.append((np.abs(np.diff(readings)).sum(), any(chosen)))
        ways.sort()
        if ways[0][1] or len(ways) > 1 and ways[1][0] - ways[0][0] < 2:
            return False
    return True


KINDS = [out_of_range, flip, singular, elbow, wound]


def drawn(seed, n):
    kind, faulty = KINDS[n // 2 % len(KINDS)], n % 2 == 1
    d = np.random.default_rng([seed, n])
    while True:
        try:
            job, words, why = kind(d, faulty)
            return {"kind": kind.__name__.replace("_", " "), "faulty": faulty, "why": why, "plan": job.plan(words), "targets": [m[1] for m in job.motions]}
        except Unfit:
            continue


question = json.load(sys.stdin)
json.dump([drawn(question["seed"], n) for n in range(question["count"])], sys.stdout)
