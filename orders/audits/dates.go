package audits

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
)

// OutOfOrder says what of an audit has dates out of their order: what should come before
// reading and came after, and what is older than the delivery. zone is the shop's.
func (a Audit) OutOfOrder(zone *time.Location) []measure.Text {
	o := outOfOrder{a: a, zone: zone}
	o.plan()
	o.notice()
	o.hold()
	for _, m := range a.Measurers {
		o.measurer(m)
	}
	for i, p := range a.Photos {
		o.photo(i+1, p)
	}
	return o.said
}

type outOfOrder struct {
	a    Audit
	zone *time.Location
	said []measure.Text
}

func (o *outOfOrder) say(wrong bool, key string, args ...any) {
	if wrong {
		o.said = append(o.said, measure.Say(key, args...))
	}
}

// clock is a time as text, in the shop's zone.
func (o *outOfOrder) clock(t time.Time) measure.Text {
	local := t.In(o.zone)
	return measure.Say("%s, %s", act.DateOf(local).Text(), local.Format("15:04"))
}

// began is when the first began to read, and ended when the last ended; zero before.
func (o *outOfOrder) began() (began, ended time.Time) {
	for _, m := range o.a.Measurers {
		c := m.Circumstances
		if c.Began.IsZero() {
			continue
		}
		if began.IsZero() || c.Began.Before(began) {
			began = c.Began
		}
		if c.Ended.After(ended) {
			ended = c.Ended
		}
	}
	return began, ended
}

func (o *outOfOrder) plan() {
	for i, p := range o.a.Plans {
		for _, m := range o.a.Measurers {
			c := m.Circumstances
			if i == 0 {
				o.say(!c.Began.IsZero() && c.Began.Before(p.Fixed), "The plan was fixed %s, after %s had begun to read (%s).", o.clock(p.Fixed), m.Name, o.clock(c.Began))
				continue
			}
			o.say(!m.HandedIn.IsZero() && m.HandedIn.Before(p.Fixed), "The plan was amended %s, after %s had handed in (%s).", o.clock(p.Fixed), m.Name, o.clock(m.HandedIn))
		}
	}
}

func (o *outOfOrder) notice() {
	if len(o.a.Notices) == 0 {
		return
	}
	n := o.a.Notices[len(o.a.Notices)-1]
	began, ended := o.began()
	if n.How == "" || began.IsZero() {
		return
	}
	o.say(n.When.After(began), "The seller was told %s, after reading had begun (%s).", o.clock(n.When), o.clock(began))
	o.say(n.Appointed.After(ended), "The seller was asked to come %s; reading had ended by then (%s).", o.clock(n.Appointed), o.clock(ended))
}

func (o *outOfOrder) hold() {
	h := o.a.Hold()
	if h.Since.IsZero() {
		return
	}
	delivered := o.a.Subject.DeliveredOn
	o.say(delivered.After(act.DateOf(h.Since.In(o.zone))), "The wood is said to be kept as it is since %s, before it was delivered (%s).", o.clock(h.Since), delivered.Text())
	began, _ := o.began()
	o.say(!began.IsZero() && h.Since.After(began), "The wood is kept as it is only since %s, after reading had begun (%s).", o.clock(h.Since), o.clock(began))
}

func (o *outOfOrder) measurer(m Measurer) {
	c := m.Circumstances
	if c.Began.IsZero() {
		return
	}
	began := act.DateOf(c.Began.In(o.zone))
	delivered := o.a.Subject.DeliveredOn
	o.say(delivered.After(began), "%s began to read %s, before the wood was delivered (%s).", m.Name, o.clock(c.Began), delivered.Text())
	o.say(c.CheckedOn.After(began), "The tape of %s was checked %s, after reading (%s).", m.Name, c.CheckedOn.Text(), began.Text())
	in := m.HandedIn
	if !m.Corrected.IsZero() {
		in = m.Corrected
	}
	if days := act.DateOf(c.Ended.In(o.zone)).DaysTo(act.DateOf(in.In(o.zone))); days > 0 {
		o.say(true, "%s handed in %s, %d days after reading ended: the readings were typed in later.", m.Name, o.clock(in), days)
	}
	closed := o.a.ClosedAt
	o.say(!closed.IsZero() && c.Ended.After(closed), "The audit was closed %s, before %s ended reading (%s).", o.clock(closed), m.Name, o.clock(c.Ended))
}

func (o *outOfOrder) photo(n int, p photos.Photo) {
	if p.Taken.IsZero() {
		return
	}
	taken, delivered := act.DateOf(p.Taken.In(o.zone)), o.a.Subject.DeliveredOn
	switch days := taken.DaysTo(delivered); {
	case days >= 730:
		o.say(true, "Photo %d was taken %s, %d years before the delivery.", n, taken.Text(), days/365)
	case days > 0:
		o.say(true, "Photo %d was taken %s, %d days before the delivery.", n, taken.Text(), days)
	}
	o.say(p.Taken.After(p.Added), "Photo %d is said to be taken %s, after it was added (%s).", n, o.clock(p.Taken), o.clock(p.Added))
}
