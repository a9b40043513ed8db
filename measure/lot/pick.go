package lot

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// Pick draws n of the packages 1 to lotSize at random without replacement and
// gives their numbers in rising order; n over lotSize draws them all, and a lot
// that is empty or over MaxLotSize gives none.
//
// Anyone with the seed can repeat it: the generator is PCG-DXSM with 128 bits of
// state, the seed in the high 64 and zero in the low (math/rand/v2,
// rand.NewPCG(seed, 0)). In turn from 1, each package is given the next 64-bit
// number it makes. The n packages with the smallest numbers are the sample; of
// equal numbers the lower package is taken.
func Pick(lotSize, n int, seed uint64) []int {
	if lotSize < 1 || lotSize > MaxLotSize || n < 1 {
		return nil
	}
	type drawn struct {
		key    uint64
		number int
	}
	generator := rand.NewPCG(seed, 0)
	all := make([]drawn, lotSize)
	for i := range all {
		all[i] = drawn{generator.Uint64(), i + 1}
	}
	slices.SortFunc(all, func(a, b drawn) int { return cmp.Or(cmp.Compare(a.key, b.key), a.number-b.number) })
	picks := make([]int, min(n, lotSize))
	for i := range picks {
		picks[i] = all[i].number
	}
	slices.Sort(picks)
	return picks
}
