package face

import "math"

// A homography maps pixels to places in the face, in inches, or back. Its scale is free.
type homography [9]float64

// apply maps a point; w is the third coordinate, whose sign tells the side of the horizon
// that the point is on.
func (h *homography) apply(p point) (q point, w float64) {
	w = h[6]*p.X + h[7]*p.Y + h[8]
	return point{(h[0]*p.X + h[1]*p.Y + h[2]) / w, (h[3]*p.X + h[4]*p.Y + h[5]) / w}, w
}

func (h *homography) times(g *homography) (out homography) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[3*i+j] += h[3*i+k] * g[3*k+j]
			}
		}
	}
	return out
}

// point is a place in the picture, in pixels, or in the face, in inches.
type point struct{ X, Y float64 }

// through gives the homography that maps from to the places to: exactly for four points of
// which no three lie on a line, and for more with the least algebraic error in normalised
// coordinates (the normalised direct linear transform: Hartley and Zisserman, Multiple View
// Geometry in Computer Vision, 2nd edition 2004, algorithm 4.2; from memory).
func through(from, to []point) homography {
	n, back := normal(from), normal(to)
	var m [9][9]float64 // the equations times their transpose
	for i := range from {
		p, _ := n.apply(from[i])
		q, _ := back.apply(to[i])
		for _, row := range [2][9]float64{
			{0, 0, 0, -p.X, -p.Y, -1, q.Y * p.X, q.Y * p.Y, q.Y},
			{p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y, -q.X},
		} {
			for j := range row {
				for k := range row {
					m[j][k] += row[j] * row[k]
				}
			}
		}
	}
	h := homography(smallest(m))
	undone := undo(back)
	h = undone.times(&h)
	return h.times(&n)
}

// normal is the similarity that puts the middle of points at the origin and their mean
// distance from it at √2.
func normal(points []point) homography {
	var mid point
	for _, p := range points {
		mid.X += p.X / float64(len(points))
		mid.Y += p.Y / float64(len(points))
	}
	var far float64
	for _, p := range points {
		far += math.Hypot(p.X-mid.X, p.Y-mid.Y) / float64(len(points))
	}
	s := math.Sqrt2 / far
	return homography{s, 0, -s * mid.X, 0, s, -s * mid.Y, 0, 0, 1}
}

// undo is the inverse of a similarity that normal gives.
func undo(n homography) homography {
	s := n[0]
	return homography{1 / s, 0, -n[2] / s, 0, 1 / s, -n[5] / s, 0, 0, 1}
}

// smallest is the eigenvector of the smallest eigenvalue of a symmetric matrix, by cyclic
// Jacobi rotations (Golub and Van Loan, Matrix Computations, section 8.5; from memory).
func smallest(m [9][9]float64) (v [9]float64) {
	var turns [9][9]float64
	for i := range turns {
		turns[i][i] = 1
	}
	for range 60 { // a handful of sweeps is enough; each squares what is left
		var off, on float64
		for i := range m {
			on += m[i][i] * m[i][i]
			for j := range i {
				off += m[i][j] * m[i][j]
			}
		}
		if off <= 1e-32*on {
			break
		}
		for i := range m {
			for j := range i {
				rotate(&m, &turns, j, i)
			}
		}
	}
	least := 0
	for i := range m {
		if m[i][i] < m[least][least] {
			least = i
		}
	}
	for i := range v {
		v[i] = turns[i][least]
	}
	return v
}

// rotate makes m[p][q] nothing, p < q, by a rotation that is kept in turns.
func rotate(m, turns *[9][9]float64, p, q int) {
	if m[p][q] == 0 {
		return
	}
	theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	s := t * c
	for k := range m {
		a, b := m[k][p], m[k][q]
		m[k][p], m[k][q] = c*a-s*b, s*a+c*b
	}
	for k := range m {
		a, b := m[p][k], m[q][k]
		m[p][k], m[q][k] = c*a-s*b, s*a+c*b
		a, b = turns[k][p], turns[k][q]
		turns[k][p], turns[k][q] = c*a-s*b, s*a+c*b
	}
}
