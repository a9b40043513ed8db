package form

import "wellstowed/measure"

// Whole is a measuring form as a tally document, with the faults of what cannot be read.
// Rows are laid out by hand, with what other fields there are in rest; they are nil for
// any other kind of stack.
func Whole(rows *Tally, rest *Stack) ([]byte, measure.InputErrors, error) {
	if rows == nil {
		doc, faults := rest.Document()
		return doc, faults, nil
	}
	doc, err := rows.Document()
	if err != nil {
		return nil, nil, err
	}
	return rest.Into(doc)
}
