package web

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
	"wellstowed/receipts/words"
	"wellstowed/web/api"
)

var (
	errHost  = errors.New("the request names a host that is not served here")
	errToken = errors.New("the form's token is missing or old")
	// errToForm is no fault: a person goes back to the form from what is read back of it.
	errToForm = errors.New("the form is asked for again")
)

// errTooLarge is a body above its route's limit, in bytes.
type errTooLarge struct{ limit int }

func (e errTooLarge) Error() string { return fmt.Sprintf("the body is above %d bytes", e.limit) }

// statusOf is the one map from kinds of error to HTTP statuses.
func statusOf(kind act.Kind) int {
	switch kind {
	case act.Invalid:
		return fiber.StatusUnprocessableEntity
	case act.NotFound:
		return fiber.StatusNotFound
	case act.Conflict:
		return fiber.StatusConflict
	case act.Forbidden:
		return fiber.StatusForbidden
	case act.Unknown:
		return fiber.StatusUnauthorized
	case act.Unavailable:
		return fiber.StatusServiceUnavailable
	}
	return fiber.StatusInternalServerError
}

// A fault is an error as a person or a program may see it.
type fault struct {
	status    int
	message   measure.Text
	fields    []*measure.InputError
	reference string // names the line in the log; only where the error is ours
	saved     *act.Saved
	savedPath string // of the page of what was saved
}

// faultOf sorts an error. What is ours is logged, and only its reference is shown.
func (s *Server) faultOf(c *fiber.Ctx, err error) fault {
	var known *act.Error
	var inputs measure.InputErrors
	var input *measure.InputError
	var large errTooLarge
	var often errTooOften
	var http *fiber.Error
	switch {
	case errors.As(err, &known) && known.Kind != act.Internal:
		if known.Kind == act.Unavailable {
			c.Set(fiber.HeaderRetryAfter, "60")
			s.log.ErrorContext(c.UserContext(), "not saved", "request", requestID(c), "method", c.Method(), "route", c.Route().Path, "error", logged(err))
		}
		f := fault{status: statusOf(known.Kind), message: orDefault(known.Message, known.Kind), fields: known.Fields, saved: known.Saved}
		if f.saved != nil {
			f.savedPath = savedPath(c, *f.saved)
		}
		return f
	case errors.As(err, &inputs):
		return fault{status: fiber.StatusUnprocessableEntity, message: orDefault(measure.Text{}, act.Invalid), fields: inputs}
	case errors.As(err, &input):
		return fault{status: fiber.StatusUnprocessableEntity, message: orDefault(measure.Text{}, act.Invalid), fields: []*measure.InputError{input}}
	case errors.As(err, &large) && large.limit == 0:
		return fault{status: fiber.StatusRequestEntityTooLarge, message: measure.Say("Nothing can be sent to this address.")}
	case errors.As(err, &large):
		return fault{status: fiber.StatusRequestEntityTooLarge,
			message: measure.Say("That is more than can be taken here: at most %d kB.", large.limit/1000)}
	case errors.As(err, &often):
		c.Set(fiber.HeaderRetryAfter, strconv.Itoa(int(often.wait/time.Second)+1))
		return fault{status: fiber.StatusTooManyRequests, message: often.message()}
	case errors.Is(err, errForeign):
		return fault{status: fiber.StatusForbidden, message: measure.Say("Another site’s page sent this, so nothing was done.")}
	case errors.Is(err, errToForm):
		return fault{status: fiber.StatusOK}
	case errors.Is(err, errHost):
		return fault{status: fiber.StatusMisdirectedRequest,
			message: measure.Say("This address is not served here. Open the one that the program named when it started.")}
	case errors.Is(err, errToken) && sentFiles(c):
		return fault{status: fiber.StatusForbidden, message: measure.Say("This form was open for too long, or was not opened here. Go back, load the page again and choose the photo again.")}
	case errors.Is(err, errToken):
		return fault{status: fiber.StatusForbidden, message: measure.Say("This form was open for too long, or was not opened here.")}
	case errors.As(err, &http) && http.Code < fiber.StatusInternalServerError:
		return fault{status: http.Code, message: statusText(http.Code)}
	}
	reference := requestID(c)
	s.log.ErrorContext(c.UserContext(), "request failed", "request", reference,
		"method", c.Method(), "route", c.Route().Path, "error", logged(err))
	return fault{status: fiber.StatusInternalServerError, reference: reference,
		message: measure.Say("Something went wrong here, not with what you typed. Reference %s.", reference)}
}

// logged is an error with the cause that people are not shown.
func logged(err error) string {
	var known *act.Error
	if errors.As(err, &known) && known.Err != nil {
		return fmt.Sprintf("%v: %v", err, known.Err)
	}
	return err.Error()
}

func orDefault(message measure.Text, kind act.Kind) measure.Text {
	if message.Key != "" {
		return message
	}
	switch kind {
	case act.NotFound:
		return measure.Say("That page isn’t here.")
	case act.Conflict:
		return measure.Say("Somebody else changed this first.")
	case act.Forbidden:
		return measure.Say("This is not for you to see or do.")
	case act.Unknown:
		return measure.Say("Sign in first.")
	}
	return measure.Say("Something typed was not understood.")
}

func statusText(code int) measure.Text {
	switch code {
	case fiber.StatusNotFound:
		return measure.Say("That page isn’t here.")
	case fiber.StatusMethodNotAllowed:
		return measure.Say("This page cannot be used in that way.")
	case fiber.StatusRequestEntityTooLarge:
		return measure.Say("That is more than can be taken here. A photo may have up to %d MB.", photos.MaxBytes/1_000_000)
	case fiber.StatusUnsupportedMediaType:
		return measure.Say("Send a form or JSON, not compressed.")
	}
	return measure.Say("The request was not understood.")
}

// A messagePage says what was not done, and leads back.
type messagePage struct {
	page
	Back string // path of the form for a photo that was refused unread, or ""
}

// fail answers what no handler has answered: the router's ErrorHandler.
func (s *Server) fail(c *fiber.Ctx, err error) error {
	setHeaders(c)
	if act.KindOf(err) == act.Unknown && c.Method() != fiber.MethodPost && !wantsJSON(c) {
		return s.signInFirst(c)
	}
	f := s.faultOf(c, err)
	p := s.page(c, measure.Say("Not done"), "")
	if f.status == fiber.StatusNotFound {
		p = s.page(c, measure.Say("Not found"), "")
	}
	if wantsJSON(c) {
		if fromProgram(c) && f.status == fiber.StatusUnauthorized {
			c.Set(fiber.HeaderWWWAuthenticate, "Bearer")
		}
		return s.problem(c, p.Print, f)
	}
	c.Status(f.status)
	if asksAgain(err) && c.Method() == fiber.MethodPost && !sentFiles(c) && !c.Request().IsBodyStream() { // files, and what was not read, cannot be put back
		return s.sendAgain(c, p, f, !errors.Is(err, errToken) && act.KindOf(err) != act.Unavailable)
	}
	p.set(f)
	return s.render(c, "message", messagePage{page: p, Back: backToPhotos(c)})
}

// asksAgain tells whether a form is asked for again as it was sent: with a fresh token, by
// somebody who says who it is, or once the file can be written to.
func asksAgain(err error) bool {
	var unproven errAgain
	return errors.Is(err, errToken) || errors.As(err, &unproven) || act.KindOf(err) == act.Unknown || act.KindOf(err) == act.Unavailable
}

func (s *Server) problem(c *fiber.Ctx, print *words.Printer, f fault) error {
	p := api.Problem{Type: "about:blank", Title: http.StatusText(f.status), Status: f.status,
		Detail: print.Say(f.message), Reference: f.reference}
	for _, field := range f.fields {
		p.Fields = append(p.Fields, print.InputError(withoutBarred(field)))
	}
	if f.saved != nil {
		p.Saved = &api.Saving{At: f.saved.At, Did: string(f.saved.Verb), Path: pathFor(c, f.savedPath), As: s.savedJSON(f.saved.Thing)}
	}
	err := c.Status(f.status).JSON(p)
	c.Set(fiber.HeaderContentType, "application/problem+json")
	return err
}

// withoutBarred is the fault without what was read where that holds a term that
// is never printed.
func withoutBarred(e *measure.InputError) *measure.InputError {
	if said, err := measure.ParseQuantityOf(e.Got, 16*measure.Inch); err != nil || said.Barred == "" {
		return e
	}
	kept := *e
	kept.Got = ""
	return &kept
}

// An again is the page that answers a form without a good token: all that was
// typed, with a fresh token.
type again struct {
	page
	Action       string
	Sent         []sent
	AsksName     bool // who sends it signs in with it
	AsksPassword bool // who sends it shows who it is
}

type sent struct{ Name, Label, Value string }

// Shown tells whether a person typed it.
func (s sent) Shown() bool {
	switch s.Name {
	case "request", "draft", "version", "do", "clock":
		return false
	}
	return true
}

func (s *Server) sendAgain(c *fiber.Ctx, p page, f fault, prove bool) error {
	p.Title = p.T("Send it again")
	if prove {
		p.Title = p.T("Who are you?")
	}
	p.names = map[string]string{againName: p.T("Your name"), againPassword: p.T("Password, or a recovery code"), "password": p.T("Password, or a recovery code")}
	p.set(f)
	p.wrong[againPassword] = p.wrong["password"]
	a := again{page: p, Action: c.Path(), AsksPassword: prove, AsksName: prove && s.visitor(c).Session.ID == ""}
	for name, value := range c.Request().PostArgs().All() {
		if n := formText(name); n != tokenField && n != enterField && n != againName && n != againPassword {
			a.Sent = append(a.Sent, sent{n, p.label(n), formText(value)})
		}
	}
	return s.render(c, "again", a)
}
