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

// A Said is a quantity as a person put it: the words, what they come to, and
// what has to be read back.
type Said struct {
	// Words are exactly as typed.
	Words string
	// Quantity is what they mean.
	Quantity Quantity
	// Barred is the term used that is no legal quantity ("face cord", "rick"),
	// empty otherwise. Words with a barred term stay inside: nothing printed
	// repeats them.
	Barred string
	// PieceLength is the length that gave a barred term its size, else 0.
	PieceLength Length
}
