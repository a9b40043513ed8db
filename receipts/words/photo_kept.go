//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/orders/photos"
)

// PhotoKind is what a photo of an order shows.
func (p *Printer) PhotoKind(k photos.Kind) string {
	switch k {
	case photos.OfLoad:
		return p.say("The load")
	case photos.OfTicket:
		return p.say("A ticket")
	case photos.OfPlace:
		return p.say("Where it was put")
	}
	return p.say("The stack")
}

// PhotoShows is the n-th photo of a sheet and what it shows.
func (p *Printer) PhotoShows(n int, k photos.Kind) string {
	return p.Say(measure.Say("Photo %d: %s", n, p.PhotoKind(k)))
}

// PhotoTaken says when a photo was taken and on whose word.
func (p *Printer) PhotoTaken(photo photos.Photo, zone string) string {
	switch {
	case photo.Taken.IsZero():
		return p.say("When it was taken is not known.")
	case photo.FromCamera && photo.TakenLocal:
		return p.say("Taken %s by the camera’s clock, read in the shop’s zone.", p.Time(photo.Taken, zone))
	case photo.FromCamera:
		return p.say("Taken %s by the camera’s clock.", p.Time(photo.Taken, zone))
	}
	return p.say("Taken %s, as stated by %s.", p.Time(photo.Taken, zone), photo.By)
}
