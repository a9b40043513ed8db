package orders

import "time"

// A Date is a calendar day in the shop's zone, stored and written "2006-01-02".
// The zero Date is no day.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}
