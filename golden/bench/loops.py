"""The benchmark's program as a practitioner writes it: nested loops and formats.

    python3 loops.py ROWS > program
"""
import sys

COLUMNS = 100
PITCH_X, PITCH_Y = 18.5, 21.25
APPROACH = 100.0


def motion(word, x, y, z, speed, fly_by):
    print(f"{word} x={x:.3f} y={y:.3f} z={z:.3f} roll={180.0:.3f} pitch={0.0:.3f} yaw={0.0:.3f} speed={speed:.1f} fly_by={fly_by:.3f}")


def act(word, level, seconds):
    print(f"{word} output=1 level={level}")
    print(f"dwell seconds={seconds:.2f}")


def select(load):
    print(f"select frame=base tool=jaw load={load:.3f}")


rows = int(sys.argv[1])
print("begin")
select(0.8)
act("release", "off", 0.3)
for row in range(rows):
    for column in range(COLUMNS):
        first = row == 0 and column == 0
        last = row == rows - 1 and column == COLUMNS - 1
        ax, ay = 200.0 + column * PITCH_X, 100.0 + row * PITCH_Y
        bx, by = 2500.5 + column * PITCH_X, 100.0 + row * PITCH_Y
        motion("travel", ax, ay, 20.0 + APPROACH, 80.0 if first else 500.0, 0.0 if first else 15.0)
        motion("straight", ax, ay, 20.0, 80.0, 0.0)
        act("grip", "on", 0.4)
        select(0.82)
        motion("straight", ax, ay, 20.0 + APPROACH, 80.0, 15.0)
        motion("travel", bx, by, 30.0 + APPROACH, 500.0, 15.0)
        motion("straight", bx, by, 30.0, 80.0, 0.0)
        act("release", "off", 0.3)
        select(0.8)
        motion("straight", bx, by, 30.0 + APPROACH, 80.0, 0.0 if last else 15.0)
print("end")
