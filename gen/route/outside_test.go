package route

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
)

const scipyAssignment = `
import json, sys
import numpy as np
from scipy.optimize import linear_sum_assignment

answers = []
for case in json.load(sys.stdin):
    costs = np.array(case)
    rows, columns = linear_sum_assignment(costs)
    answers.append(int(costs[rows, columns].sum()))
json.dump(answers, sys.stdout)
`

// Random assignments against SciPy's linear_sum_assignment. Debian's python3 has
// it where python3-scipy is installed; the python3 first on the path may not.
func TestAssignAgreesWithSciPy(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import scipy.optimize").Run(); err != nil {
		if os.Getenv("GRIDFERRY_REQUIRE_OUTSIDE") != "" {
			t.Fatalf("GRIDFERRY_REQUIRE_OUTSIDE is set, but %s has no scipy: %v", python, err)
		}
		t.Skipf("SKIPPED, nothing was compared: %s has no scipy (%v)", python, err)
	}
	r := rand.New(rand.NewPCG(8, 3))
	var cases [][][]int64
	for k := range 150 {
		rows := 1 + r.IntN(40)
		cases = append(cases, randomCosts(r, rows, rows+k%4))
	}
	cases = append(cases, randomCosts(r, 200, 200), randomCosts(r, 150, 300))
	var answers []int64
	ask(t, exec.Command(python, "-c", scipyAssignment), cases, &answers)
	if len(answers) != len(cases) {
		t.Fatalf("python answered %d of %d", len(answers), len(cases))
	}
	for k, costs := range cases {
		to, total := Assign(len(costs), len(costs[0]), func(i, j int) int64 { return costs[i][j] })
		checkAssignment(t, costs, to, total)
		if total != answers[k] {
			t.Errorf("case %d of %d × %d: %d, SciPy says %d", k, len(costs), len(costs[0]), total, answers[k])
		}
	}
}

func ask(t *testing.T, cmd *exec.Cmd, question, answer any) {
	t.Helper()
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		defer in.Close()
		json.NewEncoder(in).Encode(question) // a break shows as a wrong answer
	}()
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("python: %v", err)
	}
	if err := json.Unmarshal(out, answer); err != nil {
		t.Fatalf("python's answer: %v", err)
	}
}
