package web

import (
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/orders"
	"wellstowed/orders/money"
	"wellstowed/orders/photos"
	"wellstowed/receipts/words"
	"wellstowed/web/api"
)

// pictureWidth is how wide drawings are made: about a phone, so that their
// letters stay readable; larger screens show them larger.
const pictureWidth = 92 * measure.Millimetre

type receiptPage struct {
	page
	orders.Receipt
	OrderID string
	Seal    string
	Total   money.Money
	Balance money.Money // what is still to be paid
	Ended   *orders.Ending
	Counts  bool // and can be corrected or made void
	Back    string
	// Unwitnessed says what the witness file lacks; inside alone, empty for nothing.
	Unwitnessed string
	PDF         string
	Photos      []photos.Kept // of its order; inside alone
}

func (s *Server) receipt(c *fiber.Ctx) (orders.Issued, error) {
	n, err := number(c)
	if err != nil {
		return orders.Issued{}, err
	}
	return s.service.Receipt(c.UserContext(), s.actor(c), n)
}

func (s *Server) receiptShow(c *fiber.Ctx) error {
	issued, err := s.receipt(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(receiptJSON(issued))
	}
	p := s.receiptPage(c, issued)
	p.Counts, p.Back, p.PDF = counts(issued), "/orders/"+issued.OrderID, receiptPath(issued)+"/pdf"
	p.Unwitnessed = p.Print.Say(s.service.WitnessTrouble(c.UserContext()))
	if p.Photos, err = s.photosOn(c, issued.OrderID); err != nil {
		return err
	}
	return s.render(c, "receipt_show", p)
}

// receiptPage is a receipt as a page, worded as it was printed.
func (s *Server) receiptPage(c *fiber.Ctx, issued orders.Issued) receiptPage {
	facts := issued.Receipt.Facts
	p := receiptPage{page: s.page(c, receiptTitle(facts), "/"), Receipt: issued.Receipt,
		OrderID: issued.OrderID, Seal: issued.Seal, Total: facts.Price.Total(), Balance: facts.Balance(), Ended: issued.Ended}
	p.Print = words.New(p.Lang, facts.Units).SoldIn(facts.RuleSet.Unit) // as it was printed
	p.Sheet, p.Finder = s.assets.path("deliver.css"), s.assets.path("send.js")
	return p
}

// receiptTitle names a void and a correction for what they are.
func receiptTitle(f orders.Facts) measure.Text {
	switch f.Kind {
	case orders.VoidReceipt:
		return measure.Say("Void %d", int(f.Number))
	case orders.CorrectionReceipt:
		return measure.Say("Correction %d", int(f.Number))
	}
	return measure.Say("Receipt %d", int(f.Number))
}

// Message is what the receipt says in a few lines, to be sent.
func (p receiptPage) Message() string { return p.Print.ReceiptMessage(p.Facts, p.Seal) }

// MailTo begins a letter with that.
func (p receiptPage) MailTo() string {
	return mailTo(p.T("Receipt %d, %s", int(p.Facts.Number), p.Facts.Vendor.Name), p.Message())
}

// Sendable tells whether it is sent from here: a delivery's that holds its names.
func (p receiptPage) Sendable() bool {
	return p.Facts.Kind.HandsOver() && p.Ended == nil && p.Erased.IsZero() && p.Outside == ""
}

// Drawn are the lines of its signature as the path of an SVG; empty without one.
func (p receiptPage) Drawn() string {
	var path strings.Builder
	for _, stroke := range p.Signature.Drawn() {
		for i, at := range stroke {
			fmt.Fprintf(&path, "%c%d %d", "ML"[min(i, 1)], at.X, at.Y)
		}
	}
	return path.String()
}

// StoragePicture is the suggested stack; only where the receipt has a plan.
func (p receiptPage) StoragePicture() draw.Drawing {
	return draw.Storage(*p.Facts.Storage, pictureWidth)
}

func (s *Server) receiptPrint(c *fiber.Ctx) error {
	issued, err := s.receipt(c)
	if err != nil {
		return err
	}
	return s.sendReceipt(c, issued)
}

// sendReceipt sends a receipt as it was issued, byte for byte; one that was ended with a
// line across it that says by which, unless the address asks for it as issued.
func (s *Server) sendReceipt(c *fiber.Ctx, issued orders.Issued) error {
	content := issued.PDF
	if issued.Ended != nil && c.Query("as") != "issued" {
		var err error
		if content, err = s.blank.Ended(issued.Receipt, issued.Seal, *issued.Ended); err != nil {
			return err
		}
	}
	return sendPDF(c, fmt.Sprintf("receipt-%d.pdf", issued.Receipt.Facts.Number), content)
}

// sendPDF sends a paper. A browser's own reader of PDFs needs styles of its own,
// so that only framing is forbidden here.
func sendPDF(c *fiber.Ctx, name string, content []byte) error {
	c.Set(fiber.HeaderContentSecurityPolicy, "frame-ancestors 'none'")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="`+name+`"`)
	c.Set(fiber.HeaderContentType, "application/pdf")
	return c.Send(content)
}

func receiptPath(issued orders.Issued) string {
	return fmt.Sprintf("/receipts/%d", issued.Receipt.Facts.Number)
}

// receiptJSON is a receipt for programs.
func receiptJSON(issued orders.Issued) api.Receipt {
	return api.Receipt{Receipt: issued.Receipt, OrderID: issued.OrderID, Chain: issued.Chain, Seal: issued.Seal, Ended: issued.Ended}
}
