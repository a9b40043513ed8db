// Package storage works out where wood can stand.
package storage

import "wellstowed/measure"

// A Plan is one way to stow a volume along a wall. Lengths are of the finished
// stack; the footprint takes in the gaps.
type Plan struct {
	Volume      measure.Volume `json:"volume"`       // what is to be stowed
	PieceLength measure.Length `json:"piece_length"` // depth of one row
	Rows        int            `json:"rows"`
	RowLength   measure.Length `json:"row_length"`
	Height      measure.Length `json:"height"`     // of the wood
	OffGround   measure.Length `json:"off_ground"` // runners under it
	WallGap     measure.Length `json:"wall_gap"`   // between wall and first row
	RowGap      measure.Length `json:"row_gap"`    // between rows
	Width       measure.Length `json:"width"`      // footprint along the wall, with end braces
	Depth       measure.Length `json:"depth"`      // footprint away from the wall
	// Cautions are one line each, next to what they are about.
	Cautions []measure.Text `json:"cautions,omitempty"`
}
