package orders

import "wellstowed/measure"

// deed is one kind of thing a role may do.
type deed string

const (
	toRead    deed = "read"
	toTally   deed = "tally"
	toDeliver deed = "deliver"
	toManage  deed = "manage" // orders and the shop's settings
	toAudit   deed = "audit"
)

// may is the table of who may do what.
func (r Role) may(d deed) bool {
	switch r {
	case Owner:
		return true
	case Driver:
		return d == toRead || d == toTally || d == toDeliver
	case Auditor:
		return d == toRead || d == toTally || d == toAudit
	}
	return false
}

// allow answers Forbidden where the actor's role may not.
func allow(who Actor, d deed) error {
	if who.Role.may(d) {
		return nil
	}
	return &Error{Kind: Forbidden, Message: measure.Say("this is not open to the role %s; the owner can do it", string(who.Role))}
}
