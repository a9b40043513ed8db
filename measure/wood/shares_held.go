package wood

import (
	"math"

	"wellstowed/measure"
)

// ShareWord is what a count says of a stated share.
type ShareWord string

// The words; NoLimit where the rules of sale state no tolerance.
const (
	ShareWithin     ShareWord = "within"
	ShareOutside    ShareWord = "outside"
	ShareNotSettled ShareWord = "not settled"
	ShareNoLimit    ShareWord = "no tolerance stated"
)

// Shares are stated shares held against pieces counted by species.
type Shares struct {
	Pieces int         `json:"pieces"` // counted in all
	Parts  []ShareHeld `json:"parts"`  // as stated, then what was counted but not stated
	// Limit is how far a share may be out, a ratio of the whole load; 0: none stated.
	Limit float64   `json:"limit,omitempty"`
	Word  ShareWord `json:"word"`
	// Enough is about how many pieces in all would settle every share, if the shares
	// stay as counted; 0 where they are settled or no count up to MostEnough would.
	Enough int            `json:"enough,omitempty"`
	Notes  []measure.Text `json:"notes"`
}

// A ShareHeld is one species. Shares are ratios 0 to 1.
type ShareHeld struct {
	Name   string  `json:"name"`
	Stated float64 `json:"stated"` // 0: counted, but not stated
	Pieces int     `json:"pieces"`
	Share  float64 `json:"share"` // of the pieces counted
	// Low and High are Wilson's 95 % interval of the share.
	Low  float64   `json:"low"`
	High float64   `json:"high"`
	Word ShareWord `json:"word"`
}

// HoldShares holds counted pieces against stated shares. limit is how far a share may
// be out, a ratio of the whole load (0.1: ten percentage points), 0 where none is
// stated. A share is within where all of its interval is no further out than the limit,
// outside where none of it is, and not settled otherwise. counted holds at least one
// piece.
func HoldShares(stated []Stated, counted []Counted, limit float64) Shares {
	s := Shares{Limit: limit}
	for _, c := range counted {
		s.Pieces += c.Pieces
	}
	for _, part := range stated {
		s.Parts = append(s.Parts, ShareHeld{Name: part.Name, Stated: part.Share, Pieces: piecesOf(part.Name, counted)})
	}
	for _, c := range counted {
		if !names(stated, c.Name) {
			s.Parts = append(s.Parts, ShareHeld{Name: c.Name, Pieces: c.Pieces})
		}
	}
	s.Word = ShareWithin
	for i := range s.Parts {
		s.Parts[i].hold(s.Pieces, limit)
		s.Word = worse(s.Word, s.Parts[i].Word)
	}
	if s.Word == ShareNotSettled {
		s.Enough = s.enough()
	}
	s.explain()
	return s
}

// MostEnough is the most pieces that it is worth telling somebody to count.
const MostEnough = 2_000

// enough looks for the least tens of pieces that settle every share as counted.
func (s *Shares) enough() int {
	for n := (s.Pieces/10 + 1) * 10; n <= MostEnough; n += 10 {
		settled := true
		for _, p := range s.Parts {
			p.Pieces = int(math.Round(p.Share * float64(n)))
			p.hold(n, s.Limit)
			settled = settled && p.Word != ShareNotSettled
		}
		if settled {
			return n
		}
	}
	return 0
}

func piecesOf(name string, counted []Counted) int {
	for _, c := range counted {
		if keyOf(c.Name) == keyOf(name) {
			return c.Pieces
		}
	}
	return 0
}

func names(stated []Stated, name string) bool {
	for _, s := range stated {
		if keyOf(s.Name) == keyOf(name) {
			return true
		}
	}
	return false
}

func (p *ShareHeld) hold(all int, limit float64) {
	p.Share = float64(p.Pieces) / float64(all)
	p.Low, p.High = wilson(p.Pieces, all)
	low, high := p.Stated-limit, p.Stated+limit
	const same = 1e-9 // 0.5 − 0.1 and the like are no whole binary fractions
	switch {
	case limit <= 0:
		p.Word = ShareNoLimit
	case p.Low >= low-same && p.High <= high+same:
		p.Word = ShareWithin
	case p.High < low-same || p.Low > high+same:
		p.Word = ShareOutside
	default:
		p.Word = ShareNotSettled
	}
}

// worse is the word of a load of which parts have the two.
func worse(a, b ShareWord) ShareWord {
	for _, w := range []ShareWord{ShareNoLimit, ShareOutside, ShareNotSettled} {
		if a == w || b == w {
			return w
		}
	}
	return ShareWithin
}

// wilson is the 95 % score interval of a share of k among n > 0 (Wilson 1927, Journal
// of the American Statistical Association 22, from memory).
func wilson(k, n int) (low, high float64) {
	const z = 1.959963984540054
	count := float64(n)
	p := float64(k) / count
	middle := (p + z*z/(2*count)) / (1 + z*z/count)
	half := z / (1 + z*z/count) * math.Sqrt(p*(1-p)/count+z*z/(4*count*count))
	low, high = max(0, middle-half), min(1, middle+half)
	if k == 0 {
		low = 0
	}
	if k == n {
		high = 1
	}
	return low, high
}

func (s *Shares) explain() {
	s.Notes = append(s.Notes,
		measure.Say("Pieces are counted as alike in volume, and picked from all over the stack without looking for a species: common practice."),
		measure.Say("The interval is Wilson’s, 95 %% for each share by itself, of %d pieces: from memory.", s.Pieces))
	if s.Limit > 0 {
		s.Notes = append(s.Notes, measure.Say("The tolerance is taken as %s percentage points of the whole load, the wider of its two readings; of a stated share itself it would be narrower.", figure(100*s.Limit, 3)))
	}
	for _, p := range s.Parts {
		if p.Stated == 0 {
			s.Notes = append(s.Notes, measure.Say("%s was counted but not stated, and is held against a share of 0.", p.Name))
		}
	}
}
