package wood

import "math"

// student95 is the 95 % point of Student's t with a whole number of degrees of
// freedom, one-sided: tabulated to 30 (NIST/SEMATECH e-Handbook of Statistical
// Methods, section 1.3.6.7.2, from memory), and from there on by its expansion about
// the normal distribution. Without a degree of freedom it is infinite.
func student95(degrees int) float64 {
	table := [...]float64{
		6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812,
		1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.740, 1.734, 1.729, 1.725,
		1.721, 1.717, 1.714, 1.711, 1.708, 1.706, 1.703, 1.701, 1.699, 1.697,
	}
	if degrees < 1 {
		return math.Inf(1)
	}
	if degrees <= len(table) {
		return table[degrees-1]
	}
	const z = 1.6448536
	n := float64(degrees)
	return z + (z*z*z+z)/(4*n) + (5*z*z*z*z*z+16*z*z*z+3*z)/(96*n*n)
}
