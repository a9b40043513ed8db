package receipts

import (
	"wellstowed/measure"
	"wellstowed/orders/photos"
)

// photos are the pictures, each with what it shows, when it was taken and the hash of its
// original.
func (a *auditPaper) photos() {
	all := make([]captioned, len(a.pictures))
	for i, p := range a.pictures {
		all[i] = captioned{jpeg: p.JPEG, caption: func(width float64) []written { return a.caption(i+1, p.Photo, width) }}
		for _, m := range a.measurers {
			_, tapped := tappedIn(m.tally, p.Photo.SHA256)
			all[i].tapped = append(all[i].tapped, tapped...)
		}
	}
	a.paper.photos(all)
}

func (a *auditPaper) caption(n int, p photos.Photo, width float64) []written {
	lines := a.lines(labelFace(), width, a.print.Say(measure.Say("Photo %d: %s", n, a.print.Said(p.Of))))
	return append(lines, a.lines(noteFace(), width,
		a.print.PhotoTaken(p, a.r.Zone),
		a.print.Say(measure.Say("Added by %s, %s.", p.By, a.print.Time(p.Added, a.r.Zone))),
		a.print.Field("SHA-256 of the original", p.SHA256))...)
}
