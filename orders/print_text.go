package orders

import (
	"wellstowed/measure"
	"wellstowed/orders/act"
)

// printable notes what of a text for print the paper's font lacks; it returns the
// text.
func (s *Service) printable(f *act.Fields, field, text string) string {
	return f.Printable(s.printer, field, text)
}

// lacking lists the characters of text that cannot be printed, empty when all can.
func (s *Service) lacking(text string) string { return act.Lacking(s.printer, text) }

// spellings are what a person typed to be printed for a customer.
type spellings struct{ name, address string }

// spell puts typed spellings into the customer and checks that name and address
// can be printed; it asks for print_name or print_address where they cannot.
func (s *Service) spell(f *act.Fields, c *Customer, typed spellings) {
	if name := f.Line("print_name", typed.name); name != "" {
		c.PrintName = name
	}
	if address := f.Lines("print_address", typed.address); address != "" {
		c.PrintAddress = address
	}
	printed := c.printed()
	s.checkSpelling(f, "print_name", printed.Name)
	s.checkSpelling(f, "print_address", printed.Address)
}

func (s *Service) checkSpelling(f *act.Fields, field, text string) {
	if lacking := s.lacking(text); lacking != "" {
		f.Add(field, "unprintable", "", measure.Say("the paper's font has no %s", lacking),
			measure.Say("how it is to be printed, spelt without these characters"))
	}
}

// printed is the customer as printed.
func (c Customer) printed() Party {
	p := Party{Name: c.Name, Address: c.Address}
	if c.PrintName != "" {
		p.Name = c.PrintName
	}
	if c.PrintAddress != "" {
		p.Address = c.PrintAddress
	}
	return p
}

// vendor is the shop as printed.
func (s Shop) vendor() Party { return Party{Name: s.Name, Address: s.Address, Phone: s.Phone} }
