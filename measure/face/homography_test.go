package face

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A homography that is known gives points that lead back to it: exactly four, and more.
func TestAKnownHomographyIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		n := rapid.IntRange(4, MaxReferences).Draw(t, "points")
		known := homography{1.1, 0.2, 300, -0.1, 0.9, 200, 1e-5 * random.Float64(), -1e-5 * random.Float64(), 1}
		var from, to []point
		for i := range n {
			corner := [][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}}[i%4]
			p := point{4000*corner[0] + 800*random.Float64(), 3000*corner[1] + 600*random.Float64()}
			q, _ := known.apply(p)
			from, to = append(from, p), append(to, q)
		}
		h := through(from, to)
		for range 20 {
			p := point{4000 * random.Float64(), 3000 * random.Float64()}
			want, _ := known.apply(p)
			got, _ := h.apply(p)
			require.InDelta(t, want.X, got.X, 1e-7)
			require.InDelta(t, want.Y, got.Y, 1e-7)
		}
	})
}

// The homography of points that no homography fits exactly is that of numpy's singular
// value decomposition, element by element, to 1e-9 of the largest.
func TestHomographyAgreesWithNumpy(t *testing.T) {
	python := pythonWithNumpy(t)
	random := rand.New(rand.NewPCG(5, 1))
	type pair struct{ From, To []point }
	var pairs []pair
	for range 40 {
		var p pair
		for i := range 4 + random.IntN(5) {
			corner := [][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}}[i%4]
			p.From = append(p.From, point{3000*corner[0] + 900*random.Float64(), 2000*corner[1] + 900*random.Float64()})
			p.To = append(p.To, point{120*corner[0] + 10*random.Float64(), 60 - 60*corner[1] + 10*random.Float64()})
		}
		pairs = append(pairs, p)
	}
	in, err := json.Marshal(pairs)
	require.NoError(t, err)
	cmd := exec.Command(python, "-c", pythonHomography)
	cmd.Stdin = bytes.NewReader(in)
	out, err := cmd.Output()
	require.NoError(t, err)
	var theirs [][9]float64
	require.NoError(t, json.Unmarshal(out, &theirs))
	require.Len(t, theirs, len(pairs))
	for i, p := range pairs {
		ours, largest := through(p.From, p.To), 0
		for k := range ours {
			if math.Abs(ours[k]) > math.Abs(ours[largest]) {
				largest = k
			}
		}
		for k := range ours {
			assert.InDelta(t, theirs[i][k]/theirs[i][largest], ours[k]/ours[largest], 1e-9)
		}
	}
}

func pythonWithNumpy(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import numpy").Run() == nil {
			return name
		}
	}
	const missing = "no python3 with numpy here (Debian: python3-numpy)"
	if os.Getenv("CI") == "true" {
		t.Fatal(missing)
	}
	t.Skip(missing)
	return ""
}

const pythonHomography = `
import json, sys
import numpy as np
def normal(p):
    mid = p.mean(axis=0)
    s = np.sqrt(2) / np.linalg.norm(p - mid, axis=1).mean()
    return np.array([[s, 0, -s * mid[0]], [0, s, -s * mid[1]], [0, 0, 1]])
out = []
for pair in json.load(sys.stdin):
    a = np.array([[p["X"], p["Y"]] for p in pair["From"]])
    b = np.array([[p["X"], p["Y"]] for p in pair["To"]])
    na, nb = normal(a), normal(b)
    one = np.ones((len(a), 1))
    pa, pb = np.hstack([a, one]) @ na.T, np.hstack([b, one]) @ nb.T
    rows = []
    for (x, y, w), (u, v, _) in zip(pa, pb):
        rows.append([0, 0, 0, -x, -y, -w, v * x, v * y, v * w])
        rows.append([x, y, w, 0, 0, 0, -u * x, -u * y, -u * w])
    h = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    out.append((np.linalg.inv(nb) @ h @ na).flatten().tolist())
print(json.dumps(out))
`
