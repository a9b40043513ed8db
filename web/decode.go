package web

import (
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/measure/strict"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

// decode reads a form or a JSON body into the one request type of its act: every
// field that was sent is one of that type's, or a form's own, and stands there once. A
// form is given back even where it has faults, to be shown again as typed.
func decode[T any](c *fiber.Ctx) (T, error) { return decodeWith[T](c, nil) }

// decodeWith is decode for a form with more fields than those of its type.
func decodeWith[T any](c *fiber.Ctx, more []string) (request T, err error) {
	if sentJSON(c) {
		err = strict.Decode(c.Request().Body(), &request)
		return request, err
	}
	request, faults := form.Read[T](formValue(c))
	return request, refused(slices.Concat(unreadable(c), faults, unknownBut(c, append(form.Names[T](), more...))))
}

// pageFields are the fields that a page's forms have beside what a person fills in.
func pageFields() []string {
	return []string{tokenField, enterField, "request", "draft", "do", "clock", chooseField, minuteField, againName, againPassword}
}

// unknown are the fields of a form that it doesn't know and that are no page's own.
func unknown(c *fiber.Ctx, known func(name string) bool) (faults measure.InputErrors) {
	sentFields(c)(func(name, value string) {
		if !known(name) && !slices.Contains(pageFields(), name) {
			faults = append(faults, &measure.InputError{
				Field: name, Code: "unknown-field", Got: value, Reason: measure.Say("“%s” isn’t a field here", name),
			})
		}
	})
	return faults
}

// unknownBut are the fields of a form that are not among the names.
func unknownBut(c *fiber.Ctx, names []string) measure.InputErrors {
	faults := unknown(c, func(name string) bool { return slices.Contains(names, name) })
	for _, f := range faults {
		f.Accepts = measure.Say("%s", strings.Join(names, ", "))
	}
	return faults
}

func badBody(what measure.Text) error {
	return &act.Error{Kind: act.Invalid, Message: what}
}

func refused(faults []*measure.InputError) error {
	if len(faults) == 0 {
		return nil
	}
	return &act.Error{Kind: act.Invalid, Message: measure.Say("Something on the form was not understood."), Fields: faults}
}

// formValue reads the fields of a form; bytes that are no text become the mark
// for that, and readable says so. Where a button answered what was asked of a field, the
// answer is what the field says.
func formValue(c *fiber.Ctx) form.Values {
	if sentFiles(c) {
		return func(name string) string { return formText([]byte(c.FormValue(name))) }
	}
	args := c.Request().PostArgs()
	answered, answer, _ := strings.Cut(formText(args.Peek(chooseField)), "=")
	return func(name string) string {
		if name == answered && name != "" {
			return answer
		}
		return formText(args.Peek(name))
	}
}

// formText is a value as text, with the line ends that a browser sends made plain.
func formText(value []byte) string {
	return strings.ReplaceAll(strings.ToValidUTF8(string(value), "\uFFFD"), "\r\n", "\n")
}

// readable refuses a form that has fields which cannot be read.
func readable(c *fiber.Ctx) error { return refused(unreadable(c)) }

// unreadable are the fields of a form that are sent twice or are no text.
func unreadable(c *fiber.Ctx) (faults []*measure.InputError) {
	told := map[string]bool{}
	rawFields(c)(func(name, value []byte) {
		field := formText(name)
		switch {
		case told[field]:
			faults = append(faults, &measure.InputError{
				Field: field, Code: "duplicate-field", Got: formText(value),
				Reason:  measure.Say("the field “%s” was sent twice", field),
				Accepts: measure.Say("each field once"),
			})
		case !utf8.Valid(value):
			faults = append(faults, &measure.InputError{
				Field: field, Code: "not-text",
				Reason:  measure.Say("part of what was sent is not text"),
				Accepts: measure.Say("text in UTF-8"),
			})
		}
		told[field] = true
	})
	return faults
}

// rawFields walks every field of a form as it was sent, files aside.
func rawFields(c *fiber.Ctx) func(func(name, value []byte)) {
	return func(field func(name, value []byte)) {
		for name, value := range c.Request().PostArgs().All() {
			field(name, value)
		}
		files, err := c.Request().MultipartForm()
		if err != nil {
			return // it is a form without files
		}
		for _, name := range slices.Sorted(maps.Keys(files.Value)) {
			for _, value := range files.Value[name] {
				field([]byte(name), []byte(value))
			}
		}
	}
}

// sentFields walks every field of a form, files aside.
func sentFields(c *fiber.Ctx) func(func(name, value string)) {
	return func(field func(name, value string)) {
		rawFields(c)(func(name, value []byte) { field(formText(name), formText(value)) })
	}
}

func sentJSON(c *fiber.Ctx) bool { return contentType(c) == fiber.MIMEApplicationJSON }

// wantsJSON tells whether the answer is for a program: it sent JSON, or asks for
// it before HTML.
func wantsJSON(c *fiber.Ctx) bool {
	return fromProgram(c) || sentJSON(c) || c.Accepts(fiber.MIMETextHTML, fiber.MIMEApplicationJSON) == fiber.MIMEApplicationJSON
}

// enterField is the name of the button that stands first in every form, in the
// template "hidden": Enter in a field, or a phone's Go key, presses a form's first
// button, and that one never acts.
const enterField = "enter"

// toForm is what the button says that leads from what is read back to its form again.
const toForm = "form"

// act is who acts and the id of the request: the form's own, made when it was
// shown, or a program's Idempotency-Key; without either, a new one. It is Invalid
// where no button was pressed, so that every form comes back as it was typed.
func (s *Server) act(c *fiber.Ctx) (act.Act, error) {
	sent := c.Get("Idempotency-Key")
	if !sentJSON(c) {
		if formValue(c)(enterField) != "" {
			return act.Act{}, &act.Error{Kind: act.Invalid,
				Message: measure.Say("Nothing is saved yet: Enter only shows the page again. Press the button once all is as you mean it.")}
		}
		if formValue(c)("do") == toForm {
			return act.Act{}, errToForm
		}
		sent = formValue(c)("request")
	}
	if sent == "" {
		sent = newRequest()
	}
	id, err := uuid.Parse(sent)
	if err != nil {
		return act.Act{}, &act.Error{Kind: act.Invalid, Message: measure.Say("The request id must be a UUID.")}
	}
	return act.Act{Actor: s.actor(c), Request: id.String(), Clock: clockSaid(c)}, nil
}

// clockSaid is the day on which somebody said that the clock is right, where that was
// asked: a box of the form, or a program's header.
func clockSaid(c *fiber.Ctx) string {
	if sentJSON(c) {
		return c.Get("Clock-Confirmed")
	}
	return formValue(c)("clock")
}

// newRequest is a fresh id of a request. Version 7 fails only with the system's
// source of random numbers, which ends the program.
func newRequest() string { return uuid.Must(uuid.NewV7()).String() }

// orderID reads the order's id in the address.
func orderID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

// number reads a paper's number in the address.
func number(c *fiber.Ctx) (int64, error) {
	n, err := strconv.ParseInt(c.Params("number"), 10, 64)
	if err != nil || n < 1 {
		return 0, &act.Error{Kind: act.NotFound}
	}
	return n, nil
}

// made answers an act that succeeded: a program gets the thing with status 201 or,
// where nothing new came of it, 200; a person is sent to its page.
func made(c *fiber.Ctx, status int, path string, thing any) error {
	if wantsJSON(c) {
		c.Set(fiber.HeaderLocation, pathFor(c, path))
		return c.Status(status).JSON(thing)
	}
	if draft := formValue(c)("draft"); strings.HasPrefix(draft, "/") {
		path += "?saved=" + url.QueryEscape(draft)
	}
	return c.Redirect(path, fiber.StatusSeeOther)
}
