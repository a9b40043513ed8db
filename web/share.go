package web

import (
	"fmt"
	"html/template"
	"strings"

	"rsc.io/qr"

	"wellstowed/measure"
)

// A shared is a link to be handed to somebody else, who can open it only where the
// server has an address of its own.
type shared struct {
	Path  string        // on this server
	Link  string        // the whole of it; empty where only this machine can open it
	QR    template.HTML // the link as a picture to be read by a phone
	Alone string        // says that it opens on this machine alone
	Here  string        // what opening it there is called
	Paper []choice      // what to give in its place
}

// share makes a link of a path. Without an address that others reach it says so, and
// offers a paper.
func (s *Server) share(p page, path string, paper ...choice) (shared, error) {
	if s.base == "" {
		return shared{Path: path, Paper: paper, Here: p.T("Open it on this computer"), Alone: p.T("Only this computer can open these pages, so this link opens here and nowhere else. For a phone, start the program with --lan or --name first.")}, nil
	}
	l := shared{Path: path, Link: s.base + path}
	var err error
	l.QR, err = drawQR(l.Link, p.Print.Say(measure.Say("The link as a code for a phone’s camera")))
	return l, err
}

// Base is the link without what it asks for: "https://yard.example/pair".
func (l shared) Base() string {
	base, _, _ := strings.Cut(l.Link, "?")
	return base
}

// Pixels of a drawn QR code across, and its quiet zone in modules (ISO/IEC 18004, from
// memory).
const (
	qrWidth = 246
	qrQuiet = 4
)

// drawQR draws a text as a QR code, black on white by night too, since that is what
// cameras read.
func drawQR(text, label string) (template.HTML, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", fmt.Errorf("QR code: %w", err)
	}
	var path strings.Builder
	for y := range code.Size {
		for x := range code.Size {
			if code.Black(x, y) {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", x+qrQuiet, y+qrQuiet)
			}
		}
	}
	side := code.Size + 2*qrQuiet
	return template.HTML(fmt.Sprintf(
		`<svg viewBox="0 0 %d %d" width="%d" height="%d" shape-rendering="crispEdges" role="img" aria-label="%s"><path fill="#fff" d="M0 0h%dv%dH0z"/><path fill="#000" d="%s"/></svg>`,
		side, side, qrWidth, qrWidth, template.HTMLEscapeString(label), side, side, path.String())), nil
}
