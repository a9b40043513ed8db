// Package measure turns readings taken at a stack of firewood into a volume with
// an honest doubt, and holds it against what was sold. It does no input or output
// and reads no clock.
package measure

// estimate is what a kind of stack makes of its readings.
type estimate struct{}
