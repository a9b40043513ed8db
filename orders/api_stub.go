package orders

import (
	"context"
	"time"

	"wellstowed/measure"
)

func New(store Store, printer Printer, clock func() time.Time) *Service {
	return &Service{store: store, printer: printer, clock: clock, issuing: make(chan struct{}, 1)}
}
func (s *Service) Shop(ctx context.Context, who Actor) (Shop, error) { return Shop{}, nil }
func (s *Service) ChangeShop(ctx context.Context, act Act, r ShopRequest) (Shop, error) {
	return Shop{}, nil
}
func (s *Service) Orders(ctx context.Context, who Actor, before int64, limit int) (Listing, error) {
	return Listing{}, nil
}
func (s *Service) TakeOrder(ctx context.Context, act Act, r OrderRequest) (Order, error) {
	return Order{}, nil
}
func (s *Service) ChangeOrder(ctx context.Context, act Act, id string, r OrderRequest) (Order, error) {
	return Order{}, nil
}
func (s *Service) CancelOrder(ctx context.Context, act Act, id string, version int64) (Order, error) {
	return Order{}, nil
}
func (s *Service) History(ctx context.Context, who Actor, id string) (History, error) {
	return History{}, nil
}
func (s *Service) Deliver(ctx context.Context, act Act, orderID string, r LoadRequest) (Issued, error) {
	return Issued{}, nil
}
func (s *Service) Receipt(ctx context.Context, who Actor, number int64) (Issued, error) {
	return Issued{}, nil
}
func (s *Service) SaveTally(ctx context.Context, act Act, orderID string, r TallyRequest) (IssuedSheet, error) {
	return IssuedSheet{}, nil
}
func (s *Service) TryTally(ctx context.Context, who Actor, orderID string, doc []byte) (measure.Tally, measure.Result, error) {
	return measure.Tally{}, measure.Result{}, nil
}
func (s *Service) Sheet(ctx context.Context, who Actor, number int64) (IssuedSheet, error) {
	return IssuedSheet{}, nil
}
func (s *Service) Verify(ctx context.Context, who Actor, seals map[int64]string) (Verification, error) {
	return Verification{}, nil
}
func (s *Service) Ready(ctx context.Context) error { return nil }

type Verification struct {
	Receipts int
	Last     int64
	Seal     string
	Faults   []measure.Text
	Limit    measure.Text
}

func (e *Error) Error() string { return "" }
func (e *Error) Unwrap() error { return e.Err }
func KindOf(err error) Kind    { return Internal }
func (k Kind) String() string  { return "" }

func ParseMoney(text, currency string) (Money, error) { return Money{}, nil }
func (m Money) String() string                        { return "" }
func (m Money) Amount() string                        { return "" }
func (m Money) Add(o Money) Money                     { return m }
func (m Money) ForVolume(v, per measure.Volume) Money { return m }
func (p Price) Total() Money                          { return Money{} }
func ParseDate(text string) (Date, error)             { return Date{}, nil }
func DateOf(t time.Time) Date                         { return Date{} }
func (d Date) String() string                         { return "" }
func (d Date) IsZero() bool                           { return d == Date{} }
func (d Date) MarshalText() ([]byte, error)           { return nil, nil }
func (d *Date) UnmarshalText(b []byte) error          { return nil }
