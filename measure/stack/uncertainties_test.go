package stack

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// TestStandardUncertaintyAgreesWithPython holds u of the worked example against
// the uncertainties package for Python, which is given the readings and the
// model's inputs and does the propagation by itself.
func TestStandardUncertaintyAgreesWithPython(t *testing.T) {
	out, err := exec.Command(pythonWithUncertainties(t), "-c", pythonExample).Output()
	require.NoError(t, err)
	var volume, u float64
	_, err = fmt.Sscan(strings.TrimSpace(string(out)), &volume, &u)
	require.NoError(t, err, string(out))
	doc, err := os.ReadFile("../../testdata/example-short.json")
	require.NoError(t, err)
	tally, err := ParseTally(doc)
	require.NoError(t, err)
	r, err := Measure(tally)
	require.NoError(t, err)
	require.InDelta(t, volume, r.Quantity.Volume.In(measure.CubicFoot), 1e-9)
	require.InDelta(t, u, r.Standard.In(measure.CubicFoot), 1e-8, "linear propagation on both sides")
}

// pythonWithUncertainties is the Debian python3, or the first on the path, that
// has the package.
func pythonWithUncertainties(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import uncertainties").Run() == nil {
			return name
		}
	}
	const missing = "no python3 with uncertainties here (Debian: python3-uncertainties)"
	if os.Getenv("CI") == "true" {
		t.Fatal(missing)
	}
	t.Skip(missing)
	return ""
}

// pythonExample is the first worked example, rounded to the nearest, with each input as
// a quantity of its own, in inches: what is judged in common is one input to all rows.
const pythonExample = `
from math import sqrt
from statistics import mean, stdev
from uncertainties import ufloat
pieces = [16, 15.5, 16.25, 15.75, 16.5, 15.25, 16, 15.75, 16.25, 15.5]
rows = [(96, [48, 47, 48.5, 46.5, 47.5]), (95, [47, 48, 46, 47.5, 46.5]), (96.5, [46.5, 45, 46, 44.5, 45])]
rect = lambda half: ufloat(0, half / sqrt(3))
P = ufloat(mean(pieces), stdev(pieces) / sqrt(len(pieces))) + rect(1/16)
top, on_heights, on_lengths = rect(1/2), rect(1/16), rect(1/16)
V, face = 0, 0
for length, heights in rows:
    m = len(heights)
    step = sqrt(sum((b - a)**2 for a, b in zip(heights, heights[1:])) / (2 * (m - 1)))
    H = ufloat(mean(heights), step / sqrt(m)) + top + on_heights
    L = length + rect(1/2) + ufloat(0, 0.5 / sqrt(12)) + on_lengths
    V += L * H * P
    face += length * mean(heights) / 144
V *= ufloat(1, sqrt(0.016**2 + 0.12**2 / (7 * face))) * (1 + rect(0.01)) * (1 + rect(0.002))**3
print(repr(V.n / 1728), repr(V.s / 1728))
`
