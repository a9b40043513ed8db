package web_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// An effort is what a job costs whoever does it on a phone.
type effort struct{ Taps, Fields, Loads int }

// A counted phone counts what is done on it.
type counted struct {
	*phone
	effort
}

// press taps what leads to another page.
func (c *counted) press(kind, text string) {
	c.phone.press(kind, text)
	c.Taps++
	c.Loads++
}

func (c *counted) tap(kind, text string) {
	c.phone.tap(kind, text)
	c.Taps++
}

func (c *counted) fill(label, text string) {
	c.phone.fill(label, text)
	c.Fields++
}

// spent is what was done since the last time.
func (c *counted) spent() effort {
	e := c.effort
	c.effort = effort{}
	return e
}

// The jobs of a day, from the board: none costs more taps, fields or pages than it did before
// orders were taken in one line (order 3/6/3, hand over 3/0/4, payment 4/0/4), and most cost
// fewer. What they cost is in DEVELOPERS.md.
func TestPhoneJobsOfADayCostFew(t *testing.T) {
	c := &counted{phone: newPhone(t, withShop(t))}
	c.open("/")
	c.press("a", "Take an order")
	c.fill("Customer", "Ada Moss")
	c.fill("Address", "12 Mill Road")
	c.fill("How much", "1 cord seasoned red oak 16 inch at $280, today")
	c.press("button", "Read it back")
	c.press("button", "Take the order, $280.00")
	order := c.spent()

	c.open("/")
	c.press("a", "Deliver, Ada Moss")
	c.press("button", "Make the receipt")
	handOver := c.spent()

	c.open("/")
	c.press("a", "Take $280.00, Ada Moss")
	c.tap("label", "Cash")
	c.press("button", "Record it")
	payment := c.spent()
	c.open("/")
	assert.Contains(t, c.text(), "Nothing to do yet.")

	for job, is := range map[string]struct{ now, before effort }{
		"order": {order, effort{3, 6, 3}}, "hand over": {handOver, effort{3, 0, 4}}, "payment": {payment, effort{4, 0, 4}},
	} {
		assert.LessOrEqual(t, is.now.Taps, is.before.Taps, job)
		assert.LessOrEqual(t, is.now.Fields, is.before.Fields, job)
		assert.LessOrEqual(t, is.now.Loads, is.before.Loads, job)
	}
	assert.Equal(t, []effort{{3, 3, 3}, {2, 0, 2}, {3, 0, 2}}, []effort{order, handOver, payment}, "as DEVELOPERS.md says")
}
