package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/act"
)

// peopleRoutes are the lines of the access table by which people come in, go out, and
// are let in.
func (s *Server) peopleRoutes() []route {
	owner := []act.Role{act.Owner}
	inside := []act.Role{act.Owner, act.Driver, act.Auditor}
	const get, post = fiber.MethodGet, fiber.MethodPost
	all := []route{
		{get, "/sign-in", nil, s.signInNew, 0, false},
		{post, "/sign-in", nil, s.signIn, formBytes, true},
		{get, "/pair", nil, s.pairNew, 0, false},
		{post, "/pair", nil, s.pair, formBytes, true},
		{post, "/sign-out", nil, s.signOut, formBytes, true},
		{get, "/people", owner, s.peopleList, 0, false},
		{post, "/people", owner, s.personCreate, formBytes, true},
		{post, "/people/:person", owner, s.personChange, formBytes, true},
		{post, "/people/:person/code", owner, s.personInvite, formBytes, true},
		{post, "/tokens", owner, s.tokenCreate, formBytes, true},
		{post, "/people/:person/sign-out", owner, s.personSignOut, formBytes, true},
		{get, "/me", inside, s.meShow, 0, false},
		{post, "/me/password", inside, s.mePassword, formBytes, true},
		{post, "/sign-in/passkey/ask", nil, s.passkeyAsk, formBytes, true},
		{post, "/sign-in/passkey", nil, s.passkeySignIn, formBytes, true},
		{post, "/me/passkeys/ask", inside, s.passkeyBegin, formBytes, true},
		{post, "/me/passkeys", inside, s.passkeyAdd, formBytes, true},
		{post, "/me/passkeys/confirm/ask", inside, s.passkeyAsk, formBytes, true},
		{post, "/me/passkeys/confirm", inside, s.passkeyConfirm, formBytes, true},
		{post, "/me/passkeys/:passkey/remove", inside, s.passkeyRemove, formBytes, true},
		{post, "/me/recovery", inside, s.meRecovery, formBytes, true},
		{post, "/me/sign-out-others", inside, s.sessionsEnd, formBytes, true},
		{post, "/sessions/:session/end", inside, s.sessionEnd, formBytes, true},
	}
	if s.demo {
		all = append(all, route{post, "/demo/person", nil, s.demoSwitch, formBytes, true})
	}
	if s.trust.Certificate != nil {
		all = append(all, route{get, "/trust", nil, s.trustShow, 0, false}, route{get, "/trust/ca.crt", nil, s.trustFile, 0, false})
	}
	return all
}
