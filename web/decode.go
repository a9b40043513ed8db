package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/url"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/web/form"
)

// decode reads a form or a JSON body into the one request type of its act. A form
// is given back even where it has faults, to be shown again as typed.
func decode[T any](c *fiber.Ctx) (T, error) {
	if !sentJSON(c) {
		request, faults := form.Read[T](formValue(c))
		return request, errors.Join(readable(c), refused(faults))
	}
	var request T
	dec := json.NewDecoder(bytes.NewReader(c.Request().Body()))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&request); err != nil {
		return request, badBody(jsonFault(err))
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return request, badBody(measure.Say("There is more after the first JSON value."))
	}
	return request, nil
}

// jsonFault words what is wrong with a JSON body without Go's type names.
func jsonFault(err error) measure.Text {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return measure.Say("%s is of the wrong kind: read a %s.", kind.Field, kind.Value)
	}
	if name, found := strings.CutPrefix(err.Error(), "json: unknown field "); found {
		return measure.Say("There is no field %s.", name)
	}
	return measure.Say("The JSON cannot be read.")
}

func badBody(what measure.Text) error {
	return &orders.Error{Kind: orders.Invalid, Message: what}
}

func refused(faults []*measure.InputError) error {
	if len(faults) == 0 {
		return nil
	}
	return &orders.Error{Kind: orders.Invalid, Message: measure.Say("Something on the form was not understood."), Fields: faults}
}

// formValue reads the fields of a form; bytes that are no text become the mark
// for that, and readable says so.
func formValue(c *fiber.Ctx) form.Values {
	if sentFiles(c) {
		return func(name string) string { return formText([]byte(c.FormValue(name))) }
	}
	args := c.Request().PostArgs()
	return func(name string) string { return formText(args.Peek(name)) }
}

// formText is a value as text, with the line ends that a browser sends made plain.
func formText(value []byte) string {
	return strings.ReplaceAll(strings.ToValidUTF8(string(value), "\uFFFD"), "\r\n", "\n")
}

func readable(c *fiber.Ctx) error {
	var faults []*measure.InputError
	c.Request().PostArgs().VisitAll(func(name, value []byte) {
		if utf8.Valid(name) && !utf8.Valid(value) {
			faults = append(faults, &measure.InputError{
				Field: string(name), Code: "not-text",
				Reason:  measure.Say("part of what was sent is not text"),
				Accepts: measure.Say("text in UTF-8"),
			})
		}
	})
	return refused(faults)
}

func sentJSON(c *fiber.Ctx) bool { return contentType(c) == fiber.MIMEApplicationJSON }

// wantsJSON tells whether the answer is for a program: it sent JSON, or asks for
// it before HTML.
func wantsJSON(c *fiber.Ctx) bool {
	return sentJSON(c) || c.Accepts(fiber.MIMETextHTML, fiber.MIMEApplicationJSON) == fiber.MIMEApplicationJSON
}

// enterField is the name of the button that stands first in every form, in the
// template "hidden": Enter in a field, or a phone's Go key, presses a form's first
// button, and that one never acts.
const enterField = "enter"

// act is who acts and the id of the request: the form's own, made when it was
// shown, or a program's Idempotency-Key; without either, a new one. It is Invalid
// where no button was pressed, so that every form comes back as it was typed.
func (s *Server) act(c *fiber.Ctx) (orders.Act, error) {
	sent := c.Get("Idempotency-Key")
	if !sentJSON(c) {
		if formValue(c)(enterField) != "" {
			return orders.Act{}, &orders.Error{Kind: orders.Invalid,
				Message: measure.Say("Nothing is saved yet: Enter only shows the page again. Press the button once all is as you mean it.")}
		}
		sent = formValue(c)("request")
	}
	if sent == "" {
		sent = newRequest()
	}
	id, err := uuid.Parse(sent)
	if err != nil {
		return orders.Act{}, &orders.Error{Kind: orders.Invalid, Message: measure.Say("The request id must be a UUID.")}
	}
	return orders.Act{Actor: s.actor(c), Request: id.String()}, nil
}

// newRequest is a fresh id of a request. Version 7 fails only with the system's
// source of random numbers, which ends the program.
func newRequest() string { return uuid.Must(uuid.NewV7()).String() }

// orderID reads the order's id in the address.
func orderID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &orders.Error{Kind: orders.NotFound}
	}
	return id.String(), nil
}

// number reads a paper's number in the address.
func number(c *fiber.Ctx) (int64, error) {
	n, err := strconv.ParseInt(c.Params("number"), 10, 64)
	if err != nil || n < 1 {
		return 0, &orders.Error{Kind: orders.NotFound}
	}
	return n, nil
}

// made answers an act that succeeded: a program gets the thing with status 201 or,
// where nothing new came of it, 200; a person is sent to its page.
func made(c *fiber.Ctx, status int, path string, thing any) error {
	if wantsJSON(c) {
		c.Set(fiber.HeaderLocation, path)
		return c.Status(status).JSON(thing)
	}
	if draft := formValue(c)("draft"); strings.HasPrefix(draft, "/") {
		path += "?saved=" + url.QueryEscape(draft)
	}
	return c.Redirect(path, fiber.StatusSeeOther)
}
