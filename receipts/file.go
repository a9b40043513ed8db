package receipts

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"time"
	"unicode/utf16"
)

// A section is where a part of a paper begins.
type section struct {
	page int
	y    float64
	name string
}

// outline lists the parts of a paper of more than one page, for a reader to go to.
func (w *paper) outline() {
	if w.pdf.PageCount() < 2 {
		return
	}
	for _, s := range w.sections {
		w.pdf.SetPage(s.page)
		w.pdf.Bookmark(utf16Text(s.name), 0, s.y)
	}
	w.pdf.SetPage(w.pdf.PageCount()) // the library writes the pages up to the one it is on
}

// utf16Text is a text as strings outside the pages of a PDF are stored.
func utf16Text(text string) string {
	out := []byte{0xfe, 0xff}
	for _, unit := range utf16.Encode([]rune(text)) {
		out = append(out, byte(unit>>8), byte(unit))
	}
	return string(out)
}

// metadata is what the file says of itself, as XMP (ISO 16684-1): the title, the language
// and when it was made.
func metadata(title, language string, made time.Time) []byte {
	var name bytes.Buffer
	_ = xml.EscapeText(&name, []byte(title)) // a buffer takes all
	return fmt.Appendf(nil, `<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">%s</rdf:li></rdf:Alt></dc:title>
<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>Wellstowed</xmp:CreatorTool>
<xmp:CreateDate>%s</xmp:CreateDate>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>`, name.Bytes(), spoken(language), made.UTC().Format(time.RFC3339))
}

// spoken is a language as a PDF names it; a paper without one is in English.
func spoken(language string) string {
	if language == "" {
		return "en"
	}
	return language
}

// catalogued adds to the catalog of a PDF what the library has no way to say: the
// language, that the title is shown in the place of the file's name, and where the
// metadata are. The catalog is the last object, so that none behind it moves.
func catalogued(pdf []byte, language string) ([]byte, error) {
	const catalog, root, startxref = "/Type /Catalog\n", "/Root ", "startxref\n"
	at := bytes.LastIndex(pdf, []byte(catalog))
	number := bytes.LastIndex(pdf, []byte(root))
	foot := bytes.LastIndex(pdf, []byte(startxref))
	if at < 0 || number < at || foot < number {
		return nil, fmt.Errorf("this PDF has no catalog where one is expected")
	}
	object, _, _ := bytes.Cut(pdf[number+len(root):], []byte(" "))
	offset, _, _ := bytes.Cut(pdf[foot+len(startxref):], []byte("\n"))
	n, err := strconv.Atoi(string(object))
	if err != nil {
		return nil, fmt.Errorf("number of the catalog: %w", err)
	}
	xref, err := strconv.Atoi(string(offset))
	if err != nil {
		return nil, fmt.Errorf("place of the table of objects: %w", err)
	}
	const beforeCatalog = 2 // the metadata, then the information, then the catalog
	more := fmt.Sprintf("/Lang (%s)\n/ViewerPreferences << /DisplayDocTitle true >>\n/Metadata %d 0 R\n", spoken(language), n-beforeCatalog)
	out := make([]byte, 0, len(pdf)+len(more)+2)
	out = append(out, pdf[:at+len(catalog)]...)
	out = append(out, more...)
	out = append(out, pdf[at+len(catalog):foot]...)
	return fmt.Appendf(out, "%s%d\n%%%%EOF\n", startxref, xref+len(more)), nil
}
