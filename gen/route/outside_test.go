package route

import (
	"math/rand/v2"
	"testing"

	"gridferry/golden/outside"
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

// Random assignments against SciPy's linear_sum_assignment.
func TestAssignAgreesWithSciPy(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	var cases [][][]int64
	for k := range 150 {
		rows := 1 + r.IntN(40)
		cases = append(cases, randomCosts(r, rows, rows+k%4))
	}
	cases = append(cases, randomCosts(r, 200, 200), randomCosts(r, 150, 300))
	var answers []int64
	outside.Python(t, scipyAssignment, cases, &answers)
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
