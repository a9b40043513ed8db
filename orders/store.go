package orders

// Store keeps a shop's data. Its methods are declared by noun.
type Store interface{}
