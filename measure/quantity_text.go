package measure

import (
	"math/big"
	"strings"
)

// WithoutCords writes q exactly, as String does, but never in cords: in cubic feet
// where six decimals do and metric is false, else in cubic metres.
func (q Quantity) WithoutCords(metric bool) string {
	n := uint64(max(q.Volume, 0))
	text := inFeet(n)
	if metric {
		text = inMetres(n)
	}
	switch q.Basis {
	case Ranked:
		return text + " stacked"
	case Loose:
		return text + " loose"
	case Container:
		return text + " in a container"
	}
	return text
}

// inFeet writes n nanolitres in cubic feet with as many decimals, up to six, as are
// read back to n; in cubic metres where that takes more.
func inFeet(n uint64) string {
	const millionths = 1_000_000
	foot := int64(CubicFoot)
	near, _ := nearest(times(big.NewRat(int64(n), foot), millionths))
	back, fits := nearest(new(big.Rat).Mul(big.NewRat(near, millionths), big.NewRat(foot, 1)))
	if !fits || uint64(back) != n {
		return inMetres(n)
	}
	return decimals(uint64(near)/millionths, uint64(near)%millionths, 6) + " cu ft"
}

func inMetres(n uint64) string {
	text := decimals(n/uint64(CubicMetre), n%uint64(CubicMetre), 12)
	if before, after, _ := strings.Cut(text, "."); len(after) == 3 && groups(before) {
		text += "0" // where points part thousands three would be asked about
	}
	return text + " m³"
}
