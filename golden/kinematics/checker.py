"""Holds lists of moves to the arm of their plans: what every motion says of the joints.

It reads [{"plan": …, "moves": [one line of the list each, …], "checked": whether the plan passed check}, …] and
prints, for each, what is wrong with it: [[move, what, by how much], …].
"""
import json, sys

TILT = 0.2  # degrees; an arm that cannot turn everywhere may hold its tool as much off


def pose_of(m, before):
    return rpy([m[before + "roll"], m[before + "pitch"], m[before + "yaw"]]), np.array([m[before + "x"], m[before + "y"], m[before + "z"]], float)


def stacked(poses):
    return np.stack([p[0] for p in poses]), np.stack([p[1] for p in poses])


def apart(a, b):
    """How far poses are from each other: mm, and degrees."""
    return np.linalg.norm(a[1] - b[1], axis=-1), np.degrees(np.linalg.norm(vector(a[0] @ np.swapaxes(b[0], -1, -2)), axis=-1))


class Checked:
    def __init__(self, question):
        plan = question["plan"]
        cell = plan["cell"]
        self.passed = question["checked"]
        self.chain, self.frames, self.tools = Chain(cell["arm"]), frames(cell), tools(cell)
        self.given = {name for name, p in cell["poses"].items() if "joints" in p}
        self.worded = question["worded"]
        self.moves = [m for m in question["moves"] if m["action"] in ("travel", "straight")]
        self.wrong = []

    def find(self, m, what, much=0.0):
        self.wrong.append([m["n"], what, float(much)])

    def check(self):
        for m in self.moves:
            if "joints" not in m and self.passed:
                self.find(m, "no joints")
        self.ends([m for m in self.moves if "joints" in m])
        if self.passed:
            self.straights()
            self.winding()
        return self.wrong

    def ends(self, moves):
        """Where each motion ends."""
        if not moves:
            return
        shown = np.array([m["joints"] for m in moves], float)
        q = shown * self.chain.unit
        at = self.chain.forward(q, stacked([self.tools[m["tool"]] for m in moves]))
        tilt = 1e-6 if len(self.chain.axis) >= 6 else TILT
        base = stacked([pose_of(m, "base_") for m in moves])
        own = stacked([times(self.frames[m["frame"]], pose_of(m, "")) for m in moves])
        for what, there, turn in ("the pose in the base", base, tilt), ("the pose in the frame", own, tilt):
            way, turned = apart(at, there)
            for m, w, v in zip(moves, way, turned):
                if not (w <= 1e-6 and v <= turn):
                    self.find(m, what, max(w, v))
        over = np.maximum(self.chain.range[:, 0] - shown, shown - self.chain.range[:, 1])
        for m, o in zip(moves, over):
            if (o > 1e-6).any():
                self.find(m, "range", o.max())
        if self.worded:
            for m, words in zip(moves, self.chain.words(q)):
                if words != m.get("configuration"):
                    self.find(m, "configuration")

    def straights(self):
        """What lies between: the same configuration, and readings that go on without a jump to those of the list."""
        by_tool = {}
        for before, m in zip(self.moves, self.moves[1:]):
            if m["action"] != "straight" or "joints" not in m or "joints" not in before:
                continue
            if before.get("configuration") != m.get("configuration"):
                self.find(m, "configuration changes")
            by_tool.setdefault(m["tool"], {}).setdefault((tuple(before["joints"]), tuple(m["joints"])), m)
        for tool, lines in by_tool.items():
            self.follow(self.tools[tool], lines)

    def follow(self, tool, lines):
        moves, chain = list(lines.values()), self.chain
        q0, q1 = (np.array([k[i] for k in lines], float) * chain.unit for i in (0, 1))
        end = stacked([pose_of(m, "base_") for m in moves])
        rail = q1[:, 0] if len(chain.axis) == 7 else None
        start = chain.forward(q0, tool)
        way, turn = apart(start, end)
        pieces = int(max(8, np.max(way) / 2, np.max(turn) / 2))
        for _ in range(3):
            came, ok = follow(chain, tool, q0, end, pieces, rail)
            if ok.all():
                break
            pieces *= 8
        passed = chain.shown(np.array(came))
        over = np.maximum(chain.range[:, 0] - passed, passed - chain.range[:, 1]).max(axis=(0, 2))
        jump = np.abs(passed[-1] - chain.shown(q1)).max(axis=1)
        for m, o, j, fine in zip(moves, over, jump, ok):
            if not fine or not j <= 1e-4:
                self.find(m, "jump", j)
            elif o > 0.021:  # what check promises to find
                self.find(m, "range on the way", o)

    def winding(self):
        """Each joint by itself takes the turns by which it goes the least way in all."""
        if any("joints" not in m for m in self.moves):
            return
        for i, (lo, hi) in enumerate(self.chain.range):
            if self.chain.slides[i]:
                continue
            listed, ways = 0.0, None
            for before, m in zip([None] + self.moves, self.moves):
                at = m["joints"][i]
                may = [at] if m.get("target") in self.given else [at + 360 * k for k in range(-4, 5) if lo - 1e-6 <= at + 360 * k <= hi + 1e-6]
                if before is None:
                    ways = {a: 0.0 for a in may}
                    continue
                step = abs(at - before["joints"][i])
                listed += step
                most = 180 + 1e-6 if m["action"] == "straight" else np.inf
                if step > most:
                    self.find(m, "the long way", step)
                    return
                ways = {a: min((w + abs(a - b) for b, w in ways.items() if abs(a - b) <= most), default=np.inf) for a in may}
            if ways and listed > min(ways.values()) + 1:  # where the job begins weighs a little, too; without ways a range is left
                self.find(self.moves[-1], "winding", listed - min(ways.values()))


json.dump([Checked(q).check() for q in json.load(sys.stdin)], sys.stdout)
