package web

import (
	"context"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/act"
)

// doWith reads what was typed and does it.
func doWith[R, T any](s *Server, c *fiber.Ctx, do func(context.Context, act.Act, R) (T, error)) (r R, t T, err error) {
	if r, err = decode[R](c); err != nil {
		return r, t, err
	}
	by, err := s.act(c)
	if err != nil {
		return r, t, err
	}
	t, err = do(c.UserContext(), by, r)
	return r, t, err
}

// doOn is doWith to what the address names, which named reads.
func doOn[I, R, T any](s *Server, c *fiber.Ctx, named func(*fiber.Ctx) (I, error), do func(context.Context, act.Act, I, R) (T, error)) (r R, t T, err error) {
	id, err := named(c)
	if err != nil {
		return r, t, err
	}
	return doWith(s, c, func(ctx context.Context, by act.Act, r R) (T, error) { return do(ctx, by, id, r) })
}

// A formPage is a page with a form that can be shown again.
type formPage[P any] interface {
	*P
	itself() *page
}

func (p *page) itself() *page { return p }

// showAgain shows a form again with what is wrong, as typed puts back what was typed, where a person
// can mend it; a program is given the error.
func showAgain[P any, F formPage[P]](s *Server, c *fiber.Ctx, name string, err error, form func(*fiber.Ctx) (P, error), typed func(F)) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p, broken := form(c)
	if broken != nil {
		return broken
	}
	s.refuse(c, F(&p).itself(), err)
	if typed != nil {
		typed(&p)
	}
	return s.render(c, name, p)
}
