package stack

// WholeDocuments are for the tests outside the package.
var WholeDocuments = wholeDocuments
