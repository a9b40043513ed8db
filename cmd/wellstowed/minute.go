package main

import (
	"context"
	"fmt"
	"time"

	"wellstowed/orders/minute"
)

// dueEvery is how often it is looked whether a delivery's minute is over.
const dueEvery = 5 * time.Second

// numberDue makes the receipts of deliveries whose minute is over, from now on; what it gives
// stops that. What can't be numbered is said once, and is on its page.
func (m machine) numberDue(ctx context.Context, deliveries *minute.Service) (stop func()) {
	ctx, cancel := context.WithCancel(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		said := ""
		for {
			if err := deliveries.NumberDue(ctx); err != nil && ctx.Err() == nil && err.Error() != said {
				said = err.Error()
				fmt.Fprintf(m.err, "A delivery can’t be numbered: %s\n", said)
			}
			if !sleep(ctx, dueEvery) {
				return
			}
		}
	}()
	return func() {
		cancel()
		<-done
	}
}
