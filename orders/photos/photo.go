// Package photos keeps photos of loads, stacks and tickets: the bytes as they came, their
// hash, and a copy to show that has nothing hidden in it.
package photos

import (
	"path/filepath"
	"strings"
	"time"

	"wellstowed/orders/act"
)

// A Photo is a photo kept as evidence. The original bytes are kept and given
// only as a file; pages and papers show a copy without what is hidden in it.
type Photo struct {
	ID     string `json:"id"`
	Name   string `json:"name" names:"erased"` // of the file as uploaded
	Of     string `json:"of" names:"erased"`   // what it shows
	Type   string `json:"type" names:"erased"` // "image/jpeg" or "image/png"
	SHA256 string `json:"sha256"`              // of the original, hex
	Bytes  int    `json:"bytes"`               // of the original
	Width  int    `json:"width"`               // of the original, pixels
	Height int    `json:"height"`              // of the original, pixels
	// Taken is when it was taken: by the camera's own word where FromCamera, else as
	// stated by who uploaded it; zero where neither said.
	Taken      time.Time `json:"taken,omitzero"`
	FromCamera bool      `json:"from_camera,omitempty"`
	// TakenLocal tells that the camera gave no zone: Taken is its clock read in the
	// shop's zone.
	TakenLocal bool      `json:"taken_local,omitempty"`
	By         string    `json:"by" names:"erased"`
	Added      time.Time `json:"added"`
}

// Ending is how the name of a file with the original ends.
func (p Photo) Ending() string {
	if p.Type == "image/png" {
		return ".png"
	}
	return ".jpg"
}

// A Kind is what a photo of an order shows.
type Kind string

// The kinds.
const (
	OfLoad   Kind = "load"   // on the truck
	OfStack  Kind = "stack"  // as it was measured
	OfTicket Kind = "ticket" // of a scale, or a paper that was given
	OfPlace  Kind = "place"  // where it was put
)

// Kinds are all of them, in the order in which they are asked for.
func Kinds() []Kind { return []Kind{OfLoad, OfStack, OfTicket, OfPlace} }

// A Kept photo is one of an order. Its Of may be empty.
type Kept struct {
	Photo
	OrderID string `json:"order_id"`
	Shows   Kind   `json:"shows"`
	// Sheet is the number of the measurement sheet that names it, 0 while none does.
	Sheet int64 `json:"sheet,omitempty"`
}

// A Fact is what a measurement sheet says of a photo. No name is in it.
type Fact struct {
	Shows      Kind      `json:"shows"`
	SHA256     string    `json:"sha256"` // of the original, hex
	Width      int       `json:"width"`  // of the original, pixels
	Height     int       `json:"height"`
	Taken      time.Time `json:"taken,omitzero"`
	FromCamera bool      `json:"from_camera,omitempty"`
	TakenLocal bool      `json:"taken_local,omitempty"`
}

// Fact is what a sheet says of it.
func (k Kept) Fact() Fact {
	return Fact{Shows: k.Shows, SHA256: k.SHA256, Width: k.Width, Height: k.Height, Taken: k.Taken, FromCamera: k.FromCamera, TakenLocal: k.TakenLocal}
}

// FileName is the name of an uploaded file, without its folders and what cannot be
// seen; font tells what can be printed. Empty where nothing is left.
func FileName(name string, font act.Font) string {
	name = filepath.Base(strings.ReplaceAll(name, `\`, "/"))
	var b strings.Builder
	for _, r := range name {
		if !act.Hidden(r) && b.Len() < 100 && len(font.Printable(string(r))) == 0 {
			b.WriteRune(r)
		}
	}
	if name = strings.TrimSpace(b.String()); name == "." || name == "/" {
		return ""
	}
	return name
}
