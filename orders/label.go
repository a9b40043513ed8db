package orders

import (
	"context"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A LabelRequest is the label of a package as typed.
type LabelRequest struct {
	What     string `json:"identity"` // "Firewood, split red oak"
	Quantity string `json:"quantity"` // with its unit: "0.75 cu ft", "21 L"
	Price    string `json:"price"`    // of one package; empty: none is printed
	Origin   string `json:"origin"`   // county and state it was cut in, where the rules ask
}

// A Label is what is printed on each of a lot of packages of one size.
type Label struct {
	What   string
	Volume measure.Volume // above 0
	Price  money.Money    // of one package; 0: none
	Origin string
	Packer Party // the shop
	Rules  rules.Set
}

// largestPackage is over what any law read so far calls a package: 0.45 m³.
const largestPackage = measure.CubicMetre / 2

// ReadLabel reads the label of a package by the shop's rules of sale; nothing is saved.
// It is Invalid with all faults.
func (s *Service) ReadLabel(ctx context.Context, who act.Actor, r LabelRequest) (Label, Shop, error) {
	shop, err := s.Shop(ctx, who)
	if err != nil {
		return Label{}, Shop{}, err
	}
	set, err := s.setOf(shop)
	if err != nil {
		return Label{}, shop, err
	}
	var in act.Fields
	l := Label{Rules: set, Packer: Party{Name: shop.Name, Address: shop.Address, Phone: shop.Phone}}
	if l.What = s.onLabel(&in, set, "identity", r.What); l.What == "" {
		in.Missing("identity", measure.Say("what the wood is, such as “Firewood, split red oak”"))
	}
	l.Volume = packaged(&in, r.Quantity)
	if strings.TrimSpace(r.Price) != "" {
		l.Price, err = money.Parse(r.Price, shop.Currency)
		in.Parsed("price", err)
	}
	if l.Origin = s.onLabel(&in, set, "origin", r.Origin); l.Origin == "" && asksOrigin(set) {
		in.Missing("origin", measure.Say("the county and state the wood was cut in, which %s asks for", set.Name))
	}
	if shop.Name == "" {
		in.Add("identity", "no-packer", "", measure.Say("the shop has no name yet, and a label names who packed it"), measure.Say("the name and address on the page Shop"))
	}
	return l, shop, in.Err()
}

func (s *Service) onLabel(f *act.Fields, set rules.Set, field, text string) string {
	text = strings.TrimSpace(s.printable(f, field, f.Line(field, text)))
	f.Barred(set, field, text)
	return text
}

// packaged reads the quantity of one package.
func packaged(f *act.Fields, text string) measure.Volume {
	accepts := measure.Say("a volume with its unit up to 0.5 m³, such as 0.75 cu ft or 21 L")
	if strings.TrimSpace(text) == "" {
		f.Missing("quantity", accepts)
		return 0
	}
	v, err := measure.ParseVolume(text)
	if !f.Parsed("quantity", err) {
		return 0
	}
	if v < measure.Litre || v > largestPackage {
		f.Add("quantity", "out-of-range", text, measure.Say("a package holds from 1 L to 0.5 m³"), accepts)
	}
	return v
}

// asksOrigin tells whether a set asks where wood was cut.
func asksOrigin(set rules.Set) bool {
	for _, field := range set.Required {
		if field.Code == "origin" && !field.Advice && field.When == nil {
			return true
		}
	}
	return false
}
