package web

import (
	"fmt"
	"slices"

	"wellstowed/measure/face"
	"wellstowed/web/form"
	"wellstowed/web/live"
)

// faceHeader says which row the page's script has tapped in a photo.
const faceHeader = "Wellstowed-Face"

// FaceInHand is the row that is tapped in its photo, straightened; nil where none is, or it
// isn't tapped yet.
func (p measurePage) FaceInHand() *live.Face {
	if p.Kind != rowsKind || p.faceRow == 0 {
		return nil
	}
	f := live.FaceOf(p.Print, p.F, p.faceRow, p.whole, p.width, p.Set.ParseTally)
	if f.Picture.Width == 0 {
		return nil
	}
	return &f
}

// Of is the name of a field of the row's photo.
func (p rowPart) Of(field string) string {
	return fmt.Sprintf("stack.rows[%d].photo.%s", p.R, field)
}

// Plumbs are the ways that sticks are set upright.
func (p rowPart) Plumbs() choosing {
	now := p.Row.Photo.Plumb
	f := p.Named(p.Field(p.Of("plumb"), now), p.T("How the sticks were set upright"))
	return choosing{f, []choice{
		{string(face.PlumbByEye), p.T("By eye"), now != string(face.PlumbLevel)},
		{string(face.PlumbLevel), p.T("With a level"), now == string(face.PlumbLevel)},
	}}
}

// Paces are how far away most photos are taken.
func (p rowPart) Paces() []string {
	if p.UnitNow() == form.Centimetres {
		return []string{"2.5 m", "3 m", "3.5 m", "4.5 m"}
	}
	return []string{"8 ft", "10 ft", "12 ft", "15 ft"}
}

// Tapped says what of a photo that the page can't show was tapped.
func (p rowPart) Tapped() string {
	references, outline := p.Row.Photo.Counts()
	return p.T("%d references, %d points of the outline", references, outline)
}

// Both tells whether the row's tape readings are shown beside its photo.
func (p rowPart) Both() bool {
	return p.Row.Both || p.Row.Length != "" || slices.ContainsFunc(p.Row.Heights, func(h string) bool { return h != "" })
}
