"""The benchmark's program as fast as Python gets: one f-string for each transfer, and all of the text written in one go.

    python3 fast.py ROWS > program
"""
import sys

rows = int(sys.argv[1])
text = ["begin\nselect frame=base tool=jaw load=0.800\nrelease output=1 level=off\ndwell seconds=0.30\n"]
for row in range(rows):
    y = f"{100.0 + row * 21.25:.3f}"
    for column in range(100):
        first = row == 0 and column == 0
        last = row == rows - 1 and column == 99
        a, b = f"{200.0 + column * 18.5:.3f}", f"{2500.5 + column * 18.5:.3f}"
        text.append(f"""\
travel x={a} y={y} z=120.000 roll=180.000 pitch=0.000 yaw=0.000 speed={"80.0" if first else "500.0"} fly_by={"0.000" if first else "15.000"}
straight x={a} y={y} z=20.000 roll=180.000 pitch=0.000 yaw=0.000 speed=80.0 fly_by=0.000
grip output=1 level=on
dwell seconds=0.40
select frame=base tool=jaw load=0.820
straight x={a} y={y} z=120.000 roll=180.000 pitch=0.000 yaw=0.000 speed=80.0 fly_by=15.000
travel x={b} y={y} z=130.000 roll=180.000 pitch=0.000 yaw=0.000 speed=500.0 fly_by=15.000
straight x={b} y={y} z=30.000 roll=180.000 pitch=0.000 yaw=0.000 speed=80.0 fly_by=0.000
release output=1 level=off
dwell seconds=0.30
select frame=base tool=jaw load=0.800
straight x={b} y={y} z=130.000 roll=180.000 pitch=0.000 yaw=0.000 speed=80.0 fly_by={"0.000" if last else "15.000"}
""")
text.append("end\n")
sys.stdout.write("".join(text))
