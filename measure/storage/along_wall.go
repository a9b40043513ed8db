package storage

import (
	"math/big"

	"wellstowed/measure"
)

// What a sound stack along a wall keeps to: common practice, no source, but where
// one is named.
const (
	MaxHeight   = 4 * measure.Foot  // of the top, runners included: about the shoulder
	MaxSlender  = 3                 // height at most this many piece lengths
	LongRow     = 16 * measure.Foot // a longer run is split into more rows …
	MaxDeep     = 6                 // … but never more than this many deep
	WallGap     = 4 * measure.Inch  // air behind the first row
	RowGap      = 4 * measure.Inch  // air between rows
	OffGround   = 4 * measure.Inch  // runners or a pallet under the wood
	EndBrace    = 4 * measure.Inch  // room for the brace at each end
	MinPiece    = 4 * measure.Inch
	wholeLength = measure.Inch // row length and height come in whole ones
)

// cubicNanometres are in a nanolitre.
const cubicNanometres = 1_000_000_000_000_000

// AlongWall plans one stack along a wall that holds at least v, in pieces of the
// given length. It takes one row up to 16 ft long, then more rows, up to six deep,
// then longer ones. Its top is never above 4 ft, runners included, and the wood
// never higher than three piece lengths, nor higher than it is long. v is above 0 and at most measure.MaxQuantity, piece from
// 4 in to measure.MaxPieceLength; anything else is a *measure.InputError.
func AlongWall(v measure.Volume, piece measure.Length) (Plan, error) {
	if err := check(v, piece); err != nil {
		return Plan{}, err
	}
	p := Plan{
		Volume:      v,
		PieceLength: piece,
		OffGround:   OffGround,
		WallGap:     WallGap,
		RowGap:      RowGap,
		Cautions:    cautions(),
	}
	p.Height = min(MaxHeight-OffGround, MaxSlender*piece/wholeLength*wholeLength)
	p.Rows, p.RowLength = rowsFor(v, piece, p.Height)
	if p.RowLength < p.Height {
		p.Height = square(v, piece, p.RowLength, p.Height)
		p.RowLength = p.Height
	}
	p.Width = p.RowLength + 2*EndBrace
	p.Depth = WallGap + measure.Length(p.Rows)*piece + measure.Length(p.Rows-1)*RowGap
	return p, nil
}

// rowsFor gives the number of rows and the length of each.
func rowsFor(v measure.Volume, piece, height measure.Length) (rows int, length measure.Length) {
	run := runFor(v, piece, height, 1)
	rows = int(min((run+LongRow-1)/LongRow, MaxDeep))
	return rows, runFor(v, piece, height, rows)
}

// runFor is the least whole length at which rows of this height hold v. It is
// reckoned in whole numbers, so that it is never a hair too short.
func runFor(v measure.Volume, piece, height measure.Length, rows int) measure.Length {
	need := new(big.Int).Mul(big.NewInt(int64(v)), big.NewInt(cubicNanometres))
	slice := new(big.Int).Mul(big.NewInt(int64(piece)), big.NewInt(int64(height)))
	slice.Mul(slice, big.NewInt(int64(rows)*int64(wholeLength)))
	whole, over := need.QuoRem(need, slice, new(big.Int))
	if over.Sign() > 0 {
		whole.Add(whole, big.NewInt(1))
	}
	return measure.Length(whole.Int64()) * wholeLength
}

// square is the least whole side of a face as high as it is long that holds v; it
// lies between low and high.
func square(v measure.Volume, piece, low, high measure.Length) measure.Length {
	for side := low; side < high; side += wholeLength {
		if runFor(v, piece, side, 1) <= side {
			return side
		}
	}
	return high
}

func check(v measure.Volume, piece measure.Length) error {
	amounts := measure.Say("more than 0, up to %s", measure.MaxQuantity)
	lengths := measure.Say("%s to %s", MinPiece, measure.MaxPieceLength)
	switch {
	case v <= 0:
		return refuse("volume", "not-positive", v.String(), measure.Say("no wood was given to stow"), amounts)
	case v > measure.MaxQuantity:
		return refuse("volume", "too-large", v.String(), measure.Say("that is more wood than one plan is made for"), amounts)
	case piece < MinPiece:
		return refuse("piece_length", "too-small", piece.String(), measure.Say("pieces this short are not stacked in rows"), lengths)
	case piece > measure.MaxPieceLength:
		return refuse("piece_length", "too-large", piece.String(), measure.Say("pieces this long are not firewood"), lengths)
	}
	return nil
}

func refuse(field, code, got string, reason, accepts measure.Text) error {
	return &measure.InputError{Field: field, Code: code, Got: got, Reason: reason, Accepts: accepts}
}

func cautions() []measure.Text {
	return []measure.Text{
		measure.Say("A stack can topple: brace both ends, stand it on level ground, and keep children off it."),
		measure.Say("Wood pushes on what it leans against: leave the gap, and don't let it rest on the wall."),
		measure.Say("Fire can reach a house through wood beside it: keep the distance your local fire code asks for."),
		measure.Say("Not on a deck or a porch without asking a qualified person: stacked wood weighs more than most are built for."),
	}
}
