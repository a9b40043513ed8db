// Package signed is a name put under a paper where the wood is: printed, or drawn by a
// finger on the screen.
package signed

import (
	"strconv"
	"strings"
	"time"

	"wellstowed/measure"
)

// A Signature is who received what a paper says, and when.
type Signature struct {
	By string `json:"by" names:"erased"` // the printed name
	// Strokes are the lines as drawn, empty where none were: see Parse.
	Strokes string    `json:"strokes,omitempty" names:"erased"`
	At      time.Time `json:"at"` // UTC
}

// The box that is drawn in, and how many points a signature may have: some hundred are
// usual.
const (
	Width  = 600
	Height = 150
	most   = 3000
)

// A Point is a place in the box, from its upper left corner.
type Point struct{ X, Y int }

// Parse reads strokes: points as "x,y" with spaces between, x to Width and y to Height, and
// strokes with ";" between. Empty text has none.
func Parse(text string) ([][]Point, error) {
	if text == "" {
		return nil, nil
	}
	var strokes [][]Point
	count := 0
	for _, one := range strings.Split(text, ";") {
		var stroke []Point
		for _, pair := range strings.Split(one, " ") {
			p, ok := point(pair)
			if count++; !ok || count > most {
				return nil, &measure.InputError{Code: "strokes", Reason: measure.Say("those are not the lines of a signature"),
					Accepts: measure.Say("points such as 10,20 12,24 within %d by %d, lines with ; between, at most %d points", Width, Height, most)}
			}
			stroke = append(stroke, p)
		}
		strokes = append(strokes, stroke)
	}
	return strokes, nil
}

func point(text string) (Point, bool) {
	left, right, _ := strings.Cut(text, ",")
	x, badX := strconv.Atoi(left)
	y, badY := strconv.Atoi(right)
	whole := badX == nil && badY == nil && strconv.Itoa(x)+","+strconv.Itoa(y) == text
	return Point{x, y}, whole && 0 <= x && x <= Width && 0 <= y && y <= Height
}

// Drawn are the strokes; nil where none were drawn.
func (s Signature) Drawn() [][]Point {
	strokes, _ := Parse(s.Strokes) // as it was read
	return strokes
}
