// Package act is what every write rests on: who acts and may, the request that makes
// two sendings one act, the one way to write, and errors that say what to mend.
package act

import "wellstowed/measure"

// Role is what a person may do.
type Role string

// The roles.
const (
	Owner   Role = "owner"
	Driver  Role = "driver"
	Auditor Role = "auditor"
	Buyer   Role = "buyer" // comes by a link, to one receipt's case and nothing else
)

// An Actor is who acts.
type Actor struct {
	ID      string // of the person; empty for who sits at a machine without people, and at its terminal
	Person  string // the name that stands under what is done
	Role    Role
	Session string // id of the session; empty without one
	Stale   bool   // signed in too long ago for what can't be undone
}

// An Act is who acts and the id of the request: the same id twice is one act,
// answered with its first result.
type Act struct {
	Actor   Actor
	Request string // UUID made by the program or by a phone that is offline
	Clock   string // the day on which somebody said that the clock is right, "2006-01-02"; empty: not asked
}

// A Permission is one kind of thing a role may do.
type Permission string

// The permissions.
const (
	ToRead    Permission = "read"
	ToTally   Permission = "tally"
	ToDeliver Permission = "deliver"
	ToManage  Permission = "manage" // orders and the shop's settings
	ToAudit   Permission = "audit"
	ToPeople  Permission = "people" // who is let in, and as what
)

// may is the table of who may do what.
func (r Role) may(p Permission) bool {
	switch r {
	case Owner:
		return true
	case Driver:
		return p == ToRead || p == ToTally || p == ToDeliver
	case Auditor:
		return p == ToRead || p == ToTally || p == ToAudit
	}
	return false
}

// Allow answers Forbidden where the actor's role may not.
func Allow(who Actor, p Permission) error {
	if who.Role.may(p) {
		return nil
	}
	if who.Role == "" {
		return &Error{Kind: Unknown, Message: measure.Say("sign in first")}
	}
	return &Error{Kind: Forbidden, Message: measure.Say("this is not open to the role %s; the owner can do it", measure.Say(string(who.Role)))}
}

// AskAgain answers Unknown where the actor should say again who it is.
func AskAgain(who Actor) error {
	if !who.Stale {
		return nil
	}
	return &Error{Kind: Unknown, Message: measure.Say("this can’t be undone, so say again who you are")}
}
