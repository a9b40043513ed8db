//go:build !wasm

package form

import (
	"strings"

	"wellstowed/orders"
	"wellstowed/orders/cases"
)

// Case is a buyer's record as a form to change it. The quantity is given plainly where
// its own words hold a term that no page shows.
func Case(f cases.File) cases.Request {
	a := f.Case.Account
	plain := plainQuantity(orders.Order{Words: a.Words, Quantity: a.Quantity, PieceLength: a.PieceLength}, f.Set, f.Units)
	asWords := ""
	if a.AsWords {
		asWords = "yes"
		if plain = a.Words; len(f.Set.BarredIn(plain)) > 0 {
			plain = ""
		}
	}
	r := cases.Request{
		RuleSet: a.RuleSet, Quantity: plain, AsWords: asWords, PieceLength: length(a.PieceLength), Wood: a.Wood,
		SellerName: a.Seller.Name, SellerAddress: a.Seller.Address, SellerPhone: a.Seller.Phone,
		BuyerName: a.Buyer.Name, BuyerAddress: a.Buyer.Address, BuyerPhone: a.Buyer.Phone,
		DeliveredOn: a.DeliveredOn.String(), Price: amount(a.Price), Slip: string(a.Slip),
		TicketHas: strings.Join(a.Has, ","), TicketLacks: strings.Join(a.Lacks, ","),
		Vehicle: a.Vehicle, Payment: string(a.Payment), Used: string(a.Used), Stacked: string(a.Stacked), Version: a.Version,
	}
	return r
}
