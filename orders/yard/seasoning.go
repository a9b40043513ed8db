package yard

// Seasoning is what a seller states of the wood's dryness.
type Seasoning string

// The statements of seasoning; the zero Seasoning is not stated.
const (
	Green     Seasoning = "green"
	Seasoned  Seasoning = "seasoned"
	KilnDried Seasoning = "kiln-dried"
)

// Seasonings are all statements there are.
func Seasonings() []Seasoning { return []Seasoning{Green, Seasoned, KilnDried} }

// Dry tells a statement that the wood is dry.
func (s Seasoning) Dry() bool { return s == Seasoned || s == KilnDried }
