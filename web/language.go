package web

import (
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"
	"golang.org/x/text/language"

	"wellstowed/orders"
)

const languageCookie = "language"

// browsers picks among the program's languages by what a browser asks for.
var browsers = language.NewMatcher([]language.Tag{language.English, language.MustParse(orders.Spanish)})

// language is the one that pages are in for whoever asks: the one they picked, else the
// shop's; for somebody who isn't of the shop, the one their browser asks for.
func (s *Server) language(c *fiber.Ctx, shop string, ofShop bool) string {
	if picked := c.Cookies(languageCookie); slices.Contains(orders.Languages(), picked) {
		return strings.Clone(picked)
	}
	if asked := c.Get(fiber.HeaderAcceptLanguage); asked != "" && !ofShop {
		_, n := language.MatchStrings(browsers, asked)
		return orders.Languages()[n]
	}
	return shop
}

// languagePick keeps the language that somebody picked on this browser, and leads back.
func (s *Server) languagePick(c *fiber.Ctx) error {
	r, err := decode[struct {
		Language string `json:"language"`
		Back     string `json:"back"`
	}](c)
	if err != nil {
		return err
	}
	if !slices.Contains(orders.Languages(), r.Language) {
		return fiber.NewError(fiber.StatusUnprocessableEntity)
	}
	c.Cookie(&fiber.Cookie{
		Name: languageCookie, Value: r.Language, Path: "/", MaxAge: 365 * 24 * 60 * 60,
		Secure: s.secure, HTTPOnly: true, SameSite: fiber.CookieSameSiteLaxMode,
	})
	to := "/"
	if strings.HasPrefix(r.Back, "/") && !strings.HasPrefix(r.Back, "//") && !strings.ContainsAny(r.Back, "\\\r\n") {
		to = r.Back
	}
	return made(c, fiber.StatusOK, to, r)
}

// languageNames are the languages, each in itself, so that whoever reads no other finds it.
var languageNames = map[string]string{orders.English: "English", orders.Spanish: "Español"}

// Languages are the languages that the page isn't in.
func (p page) Languages() []choice {
	var others []choice
	for _, tag := range orders.Languages() {
		if tag != p.Lang {
			others = append(others, choice{Value: tag, Label: languageNames[tag]})
		}
	}
	return others
}
