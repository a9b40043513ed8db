package orders

// A Customer is somebody who buys.
type Customer struct {
	ID      string `json:"id"` // UUIDv7
	Version int64  `json:"version"`
	Name    string `json:"name"`
	Address string `json:"address"` // lines separated by \n
	Phone   string `json:"phone"`
	// PrintName and PrintAddress stand in on paper for a name or address in a
	// script that the receipt's font lacks; empty otherwise.
	PrintName    string `json:"print_name,omitempty"`
	PrintAddress string `json:"print_address,omitempty"`
}
