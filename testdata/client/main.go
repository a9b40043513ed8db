// Client takes an order by a client that was generated from a shop's OpenAPI document into
// the folder shop.
package main

import (
	"context"
	"fmt"
	"net/http"
	"os"

	"client/shop"
)

func main() {
	if err := take(os.Args[1], os.Getenv("WELLSTOWED_TOKEN")); err != nil {
		fmt.Fprintln(os.Stderr, "client:", err)
		os.Exit(1)
	}
}

func take(base, token string) error {
	c, err := shop.NewClientWithResponses(base+"/api/v1", shop.WithRequestEditorFn(func(_ context.Context, r *http.Request) error {
		r.Header.Set("Authorization", "Bearer "+token)
		return nil
	}))
	if err != nil {
		return err
	}
	text := func(s string) *string { return &s }
	wanted := shop.OrderRequest{CustomerName: text("Bo Lind"), CustomerAddress: text("3 Hill Road"), Quantity: text("1 cord"),
		Species: text("red oak"), PieceLength: text("16 in"), Seasoning: text("seasoned"), PricePerCord: text("280")}
	back, err := c.ReadBackOrderWithResponse(context.Background(), nil, wanted)
	if err != nil || back.JSON200 == nil {
		return fmt.Errorf("read back: %v: %s", err, back.Body)
	}
	wanted.Confirmed = &back.JSON200.Confirmed
	taken, err := c.TakeOrderWithResponse(context.Background(), nil, wanted)
	if err != nil || taken.JSON201 == nil {
		return fmt.Errorf("take: %v: %s", err, taken.Body)
	}
	fmt.Println("order", taken.JSON201.Number)
	return nil
}
