package web

import (
	"html/template"
	"net/url"
	"strings"

	"wellstowed/receipts/words"
)

// Tel is a link that calls a number (RFC 3966), empty where it has no figures.
func (p page) Tel(phone string) template.URL { return dialled("tel:", phone) }

// SMS is a link that writes to a number (RFC 5724), empty where it has no figures.
func (p page) SMS(phone string) template.URL { return dialled("sms:", phone) }

// dialled is a link of a scheme to a number: its figures, and the plus before them.
func dialled(scheme, phone string) template.URL {
	digits := words.Dialled(phone)
	if digits == "" {
		return ""
	}
	return template.URL(scheme + digits)
}

// mailTo is a link that begins a letter (RFC 6068).
func mailTo(subject, text string) string {
	return "mailto:?subject=" + url.PathEscape(subject) + "&body=" + url.PathEscape(strings.ReplaceAll(text, "\n", "\r\n"))
}

// Geo is a link that shows an address on the phone's own map (RFC 5870, with the address as
// the query that maps take), empty without one.
func (p page) Geo(address string) template.URL {
	if strings.TrimSpace(address) == "" {
		return ""
	}
	return template.URL("geo:0,0?q=" + url.QueryEscape(strings.ReplaceAll(address, "\n", ", ")))
}
