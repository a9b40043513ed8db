package web

import (
	"fmt"
	"slices"

	"wellstowed/measure/face"
)

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

// Tapped says what of a photo that the page can't show was tapped.
func (p rowPart) Tapped() string {
	references, outline := p.Row.Photo.Counts()
	return p.T("%d references, %d points of the outline", references, outline)
}

// Both tells whether the row's tape readings are shown beside its photo.
func (p rowPart) Both() bool {
	return p.Row.Both || p.Row.Length != "" || slices.ContainsFunc(p.Row.Heights, func(h string) bool { return h != "" })
}
