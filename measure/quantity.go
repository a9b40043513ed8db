package measure

// A Basis says how wood stands when its volume is taken. Bases never add and
// never compare.
type Basis string

// The three bases. The zero Basis is invalid.
const (
	Ranked    Basis = "ranked"    // in rows, parallel, touching, compact
	Loose     Basis = "loose"     // thrown
	Container Basis = "container" // as it fills a bin, crate or round stack
)

// A Quantity is a volume of wood and the basis it is taken on.
type Quantity struct {
	Volume Volume `json:"nanolitres"`
	Basis  Basis  `json:"basis"`
}

// String writes q exactly, so that ParseQuantity reads it back where q is > 0 and
// ≤ MaxQuantity: "1 1/3 cords", "58.4 cu ft stacked", "180 cu ft loose". Only
// ranked wood is written in cords.
func (q Quantity) String() string {
	sign, n := "", uint64(q.Volume)
	if q.Volume < 0 {
		sign, n = "-", uint64(-(q.Volume+1))+1
	}
	switch q.Basis {
	case Ranked:
		if text := cords(n); text != "" {
			return sign + text
		}
		return sign + space(n) + " stacked"
	case Loose:
		return sign + space(n) + " loose"
	case Container:
		return sign + space(n) + " in a container"
	}
	return sign + space(n)
}
