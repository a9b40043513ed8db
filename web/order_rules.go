package web

// NotSold says that what is still due can’t be delivered as it was ordered, since
// the shop's rules let nobody sell wood so; empty where it can.
func (p orderPage) NotSold() string {
	if p.Set.Code == "" || !p.CanDeliver() {
		return ""
	}
	fault := p.Set.Refuse(p.Order.Quantity, p.Order.PieceLength)
	if fault == nil {
		return ""
	}
	return p.Print.NotSold(p.Order, fault)
}
