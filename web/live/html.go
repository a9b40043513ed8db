package live

import (
	"fmt"
	"html"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/receipts/words"
)

// A writer writes HTML; what is said in it is escaped.
type writer struct {
	strings.Builder
	print *words.Printer
}

// put writes a format of HTML with texts, which it escapes.
func (w *writer) put(format string, texts ...string) {
	escaped := make([]any, len(texts))
	for i, text := range texts {
		escaped[i] = html.EscapeString(text)
	}
	fmt.Fprintf(w, format, escaped...)
}

func (w *writer) say(key string, args ...any) string { return w.print.Say(measure.Say(key, args...)) }

// each writes a format of HTML once for each line, between two pieces of it; nothing where
// there are no lines.
func (w *writer) each(before, format string, lines []string, after string) {
	if len(lines) == 0 {
		return
	}
	w.WriteString(before)
	for _, line := range lines {
		w.put(format, line)
	}
	w.WriteString(after)
}

func (w *writer) list(lines []string) { w.each("<ul>", "<li>%s</li>", lines, "</ul>") }

// listed is a list below a heading.
func (w *writer) listed(heading string, lines []string) {
	if len(lines) > 0 {
		w.put("<h3>%s</h3>", heading)
		w.list(lines)
	}
}

// Said is the answer in sentences, as HTML.
func (a *Answer) Said() string {
	w := writer{print: a.print}
	w.put(`<p class="answer">%s</p><p class="lead rest">%s</p>`, a.Head, a.Rest)
	w.each("", `<p class="lead">%s</p>`, a.After, "")
	return w.String()
}

// Pictures are the stack and the gauge, as HTML.
func (a *Answer) Pictures() string {
	w := writer{print: a.print}
	if a.Stack.Width != 0 {
		w.picture("stack", a.Stack)
	}
	if a.HasGauge {
		w.picture("gauge", a.Gauge)
	}
	return w.String()
}

// picture writes a drawing; draw escapes every text in it, and a builder takes whatever
// is written.
func (w *writer) picture(class string, d draw.Drawing) {
	w.put(`<figure class="%s">`, class)
	_ = draw.SVG(w, d, w.print.Say)
	w.WriteString("</figure>")
}

// Working is what to do, and how the answer was come to, as HTML.
func (a *Answer) Working() string {
	w := writer{print: a.print}
	if len(a.Advice) > 0 {
		w.put(`<section class="advice"><h2>%s</h2>`, w.say("What to do"))
		w.list(a.Advice)
		w.WriteString("</section>")
	}
	w.put("<details><summary>%s</summary><p>%s</p>", w.say("How sure is this?"), w.say("Measured %s, give or take %s, 19 times in 20.", a.Volume, a.Doubt))
	w.listed(w.say("Why"), a.Why)
	w.budget(a.Budget)
	w.listed(w.say("What to measure next"), a.Next)
	w.listed(w.say("Notes"), a.Notes)
	if a.Odds != "" {
		w.put("<p>%s</p>", a.Odds)
	}
	w.put("<p>%s</p></details>", w.say("Volume and uncertainty budget: JCGM 100:2008. Deciding: JCGM 106:2012. Model %d.", a.Model))
	w.procedure(a)
	return w.String()
}

func (w *writer) budget(lines []BudgetLine) {
	w.put(`<h3>%s</h3><table><thead><tr><th scope="col">%s</th><th scope="col" class="number">%s</th></tr></thead><tbody>`,
		w.say("What the give or take comes from"), w.say("Source"), w.say("Share"))
	for _, line := range lines {
		w.put(`<tr><td>%s</td><td class="number">%s</td></tr>`, line.Source, line.Share)
	}
	w.WriteString("</tbody></table>")
}

func (w *writer) procedure(a *Answer) {
	if a.Procedure == "" {
		return
	}
	w.put("<details><summary>%s</summary><p><strong>%s</strong></p>", a.ProcedureTitle, a.Procedure)
	for _, part := range a.ProcedureParts {
		w.listed(part.Heading, part.Lines)
	}
	w.WriteString("</details>")
}
