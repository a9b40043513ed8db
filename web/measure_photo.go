package web

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure/face"
	"wellstowed/orders/photos"
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

// pressed takes the points that were pressed on pictures shown as buttons, and gives each
// picture that was chosen its size, upright as it is shown. It tells whether any was pressed.
func (s *Server) pressed(c *fiber.Ctx, p *measurePage) (pressed bool, err error) {
	for i := range p.F.Rows {
		photo := &p.F.Rows[i].Photo
		if k := p.picture(photo.SHA); k != nil && photo.Width == "" {
			_, shown, err := s.service.Photos.Show(c.UserContext(), s.actor(c), k.OrderID, k.ID, false)
			if err != nil {
				return false, err
			}
			wide, high := k.Width, k.Height
			if size, err := jpeg.DecodeConfig(bytes.NewReader(shown)); err == nil && (size.Width > size.Height) != (wide > high) {
				wide, high = high, wide
			}
			photo.Width, photo.Height = strconv.Itoa(wide), strconv.Itoa(high)
		}
		pressed = photo.Press() || pressed
	}
	return pressed, nil
}

// picture is the photo of the order with a hash; nil where there is none.
func (p measurePage) picture(sha256 string) *photos.Kept {
	for i := range p.kept {
		if p.kept[i].SHA256 == sha256 {
			return &p.kept[i]
		}
	}
	return nil
}

// A pressing is a picture that is tapped without a script, as a button of the form.
type pressing struct {
	Src, Name, Next    string
	Wide, High         int // px
	ViewBox            string
	Left, Right, Round string // the sticks and the outline, as SVG has points
}

// Pressing is the row's picture as a button; nil where it isn't kept with the order.
func (p rowPart) Pressing() *pressing {
	photo := p.Row.Photo
	k := p.picture(photo.SHA)
	wide, errW := strconv.Atoi(photo.Width)
	high, errH := strconv.Atoi(photo.Height)
	if k == nil || errW != nil || errH != nil || wide <= 0 || high <= 0 {
		return nil
	}
	ends, outline := photo.Points()
	b := pressing{Src: photosPath(k.OrderID) + "/" + k.ID + "/shown", Name: p.Of("tap"), Wide: form.ButtonWide, High: form.ButtonWide * high / wide,
		ViewBox: fmt.Sprintf("0 0 %d %d", wide, high), Left: svgPoints(ends[:min(2, len(ends))]), Right: svgPoints(ends[min(2, len(ends)):]), Round: svgPoints(outline)}
	b.Next = p.T("Tap round the wood: both lower corners, then along the top")
	if names := p.ends(); len(ends) < len(names) {
		b.Next = p.T("Tap %s", names[len(ends)])
	}
	return &b
}

func svgPoints(all []face.Pixel) string {
	texts := make([]string, len(all))
	for i, q := range all {
		texts[i] = fmt.Sprintf("%g,%g", q.X, q.Y)
	}
	return strings.Join(texts, " ")
}

// ends are the points that are tapped first.
func (p rowPart) ends() []string {
	return []string{p.T("the foot of the left stick"), p.T("the top of the left stick"), p.T("the foot of the right stick"), p.T("the top of the right stick")}
}

// Ends4 are those points in one text, for the page's script.
func (p rowPart) Ends4() string { return strings.Join(p.ends(), "|") }

// Pictures are the photos of the order that the row may be read from.
func (p rowPart) Pictures() choosing {
	f := p.Named(p.Field(p.Of("sha"), p.Row.Photo.SHA), p.T("Which photo of the order"))
	list := []choice{{"", p.T("None of them"), p.Row.Photo.SHA == ""}}
	for i, k := range p.kept {
		list = append(list, choice{k.SHA256, p.T("Photo %d, %s", i+1, p.Print.PhotoKind(k.Shows)), k.SHA256 == p.Row.Photo.SHA})
	}
	return choosing{f, list}
}

// Kept tells whether the order has photos.
func (p rowPart) Kept() bool { return len(p.kept) > 0 }
