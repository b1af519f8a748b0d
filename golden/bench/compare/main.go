// Compare writes the benchmark's program by hand, in the ways in which people write
// such programs: nested loops that append digits, nested loops that print by formats,
// and a template over a list. Its third way, "raw", only passes bytes on.
//
//	compare append|fprintf|template ROWS > program
//	compare raw < program > copy
package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strconv"
	"text/template"
)

// The job of trays.plan.yaml.
const (
	columns           = 100
	pitchX, pitchY    = 18.5, 21.25
	fromX, fromY      = 200.0, 100.0
	toX, toY          = 2500.5, 100.0
	fromZ, toZ        = 20.0, 30.0
	approach          = 100.0
	empty, loaded     = 0.8, 0.82
	travel, near      = 500.0, 80.0
	flyBy             = 15.0
	gripped, released = 0.4, 0.3
)

func main() {
	ways := map[string]func(w *bufio.Writer, rows int) error{
		"append": appending, "fprintf": formatting, "template": templating,
		"raw": func(w *bufio.Writer, _ int) error { return raw(w) },
	}
	if len(os.Args) < 2 || ways[os.Args[1]] == nil {
		fmt.Fprintln(os.Stderr, "compare append|fprintf|template ROWS, or compare raw")
		os.Exit(2)
	}
	rows := 0
	if len(os.Args) > 2 {
		rows, _ = strconv.Atoi(os.Args[2])
	}
	w := bufio.NewWriterSize(os.Stdout, 1<<16)
	err := ways[os.Args[1]](w, rows)
	if flushed := w.Flush(); err == nil {
		err = flushed
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// raw passes the bytes on in pieces of a mebibyte.
func raw(w *bufio.Writer) error {

	_, err := io.CopyBuffer(onlyWriter{w}, onlyReader{os.Stdin}, make([]byte, 1<<20))
	return err
}

// onlyWriter and onlyReader hide the short cuts that systems have between files.
type (
	onlyWriter struct{ io.Writer }
	onlyReader struct{ io.Reader }
)

// eachPair goes through the slots of both trays, row by row.
func eachPair(rows int, do func(ax, ay, bx, by float64, first, last bool)) {
	for row := range rows {
		for column := range columns {
			x, y := float64(column)*pitchX, float64(row)*pitchY
			do(fromX+x, fromY+y, toX+x, toY+y, row == 0 && column == 0, row == rows-1 && column == columns-1)
		}
	}
}

// appending writes with strconv.AppendFloat into one buffer.
func appending(w *bufio.Writer, rows int) error {
	b := []byte("begin\nselect frame=base tool=jaw load=0.800\nrelease output=1 level=off\ndwell seconds=0.30\n")
	motion := func(word string, x, y, z, speed, flyBy float64) {
		b = append(b, word...)
		b = append(b, " x="...)
		b = strconv.AppendFloat(b, x, 'f', 3, 64)
		b = append(b, " y="...)
		b = strconv.AppendFloat(b, y, 'f', 3, 64)
		b = append(b, " z="...)
		b = strconv.AppendFloat(b, z, 'f', 3, 64)
		b = append(b, " roll=180.000 pitch=0.000 yaw=0.000 speed="...)
		b = strconv.AppendFloat(b, speed, 'f', 1, 64)
		b = append(b, " fly_by="...)
		b = strconv.AppendFloat(b, flyBy, 'f', 3, 64)
		b = append(b, '\n')
	}
	eachPair(rows, func(ax, ay, bx, by float64, first, last bool) {
		motion("travel", ax, ay, fromZ+approach, speedOf(first), flyByOf(first))
		motion("straight", ax, ay, fromZ, near, 0)
		b = append(b, "grip output=1 level=on\ndwell seconds=0.40\nselect frame=base tool=jaw load=0.820\n"...)
		motion("straight", ax, ay, fromZ+approach, near, flyBy)
		motion("travel", bx, by, toZ+approach, travel, flyBy)
		motion("straight", bx, by, toZ, near, 0)
		b = append(b, "release output=1 level=off\ndwell seconds=0.30\nselect frame=base tool=jaw load=0.800\n"...)
		motion("straight", bx, by, toZ+approach, near, flyByOf(last))
		_, _ = w.Write(b) // bufio keeps the error for Flush
		b = b[:0]
	})
	_, err := w.WriteString("end\n")
	return err
}

// speedOf and flyByOf: the arm begins slowly, and stops there and at the end of everything.
func speedOf(first bool) float64 {
	if first {
		return near
	}
	return travel
}

func flyByOf(end bool) float64 {
	if end {
		return 0
	}
	return flyBy
}

// formatting writes with fmt.Fprintf, as most people would.
func formatting(w *bufio.Writer, rows int) error {
	selects := func(load float64) { fmt.Fprintf(w, "select frame=base tool=jaw load=%.3f\n", load) }
	motion := func(word string, x, y, z, speed, flyBy float64) {
		fmt.Fprintf(w, "%s x=%.3f y=%.3f z=%.3f roll=%.3f pitch=%.3f yaw=%.3f speed=%.1f fly_by=%.3f\n", word, x, y, z, 180.0, 0.0, 0.0, speed, flyBy)
	}
	act := func(word string, output int, level string, seconds float64) {
		fmt.Fprintf(w, "%s output=%d level=%s\n", word, output, level)
		fmt.Fprintf(w, "dwell seconds=%.2f\n", seconds)
	}
	fmt.Fprintf(w, "begin\n")
	selects(empty)
	act("release", 1, "off", released)
	eachPair(rows, func(ax, ay, bx, by float64, first, last bool) {
		motion("travel", ax, ay, fromZ+approach, speedOf(first), flyByOf(first))
		motion("straight", ax, ay, fromZ, near, 0)
		act("grip", 1, "on", gripped)
		selects(loaded)
		motion("straight", ax, ay, fromZ+approach, near, flyBy)
		motion("travel", bx, by, toZ+approach, travel, flyBy)
		motion("straight", bx, by, toZ, near, 0)
		act("release", 1, "off", released)
		selects(empty)
		motion("straight", bx, by, toZ+approach, near, flyByOf(last))
	})
	_, err := fmt.Fprintf(w, "end\n")
	return err
}

// step is an entry of the list that the template goes through.
type step struct {
	Kind                                    string
	X, Y, Z, Roll, Pitch, Yaw, Speed, FlyBy float64
	Load, Seconds                           float64
	Output                                  int
	Level                                   string
}

const wording = `begin
{{range .}}{{if eq .Kind "select"}}select frame=base tool=jaw load={{printf "%.3f" .Load}}
{{else if or (eq .Kind "travel") (eq .Kind "straight")}}{{.Kind}} x={{printf "%.3f" .X}} y={{printf "%.3f" .Y}} z={{printf "%.3f" .Z}} roll={{printf "%.3f" .Roll}} pitch={{printf "%.3f" .Pitch}} yaw={{printf "%.3f" .Yaw}} speed={{printf "%.1f" .Speed}} fly_by={{printf "%.3f" .FlyBy}}
{{else if eq .Kind "dwell"}}dwell seconds={{printf "%.2f" .Seconds}}
{{else}}{{.Kind}} output={{.Output}} level={{.Level}}
{{end}}{{end}}end
`

// templating fills a list and has text/template write it.
func templating(w *bufio.Writer, rows int) error {
	var steps []step
	motion := func(word string, x, y, z, speed, flyBy float64) {
		steps = append(steps, step{Kind: word, X: x, Y: y, Z: z, Roll: 180, Speed: speed, FlyBy: flyBy})
	}
	act := func(word, level string, seconds, load float64) {
		steps = append(steps, step{Kind: word, Output: 1, Level: level}, step{Kind: "dwell", Seconds: seconds})
		if load > 0 {
			steps = append(steps, step{Kind: "select", Load: load})
		}
	}
	steps = append(steps, step{Kind: "select", Load: empty})
	act("release", "off", released, 0)
	eachPair(rows, func(ax, ay, bx, by float64, first, last bool) {
		motion("travel", ax, ay, fromZ+approach, speedOf(first), flyByOf(first))
		motion("straight", ax, ay, fromZ, near, 0)
		act("grip", "on", gripped, loaded)
		motion("straight", ax, ay, fromZ+approach, near, flyBy)
		motion("travel", bx, by, toZ+approach, travel, flyBy)
		motion("straight", bx, by, toZ, near, 0)
		act("release", "off", released, empty)
		motion("straight", bx, by, toZ+approach, near, flyByOf(last))
	})
	return template.Must(template.New("program").Parse(wording)).Execute(w, steps)
}
