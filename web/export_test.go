package web

import (
	"wellstowed/orders/act"
)

// Access is a line of the access table, for tests from outside.
type Access struct {
	Method, Path string
	May          []act.Role // nil: anybody
}

// AccessTable is every route there is.
func (s *Server) AccessTable() []Access {
	var all []Access
	for _, r := range s.routes() {
		all = append(all, Access{r.method, r.path, r.may})
	}
	return all
}
