package measure

// Units is the system that figures are printed in.
type Units string

// The systems of units.
const (
	Imperial Units = "imperial"
	Metric   Units = "metric"
)
