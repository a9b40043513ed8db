package api

import (
	"encoding/json"
	"reflect"
	"regexp"
	"strings"

	"wellstowed/measure/forms"
	"wellstowed/orders/act"
)

const about = `What programs can ask of a shop. Each operation does what the page of the same path does, by the same rules: a page at /orders/{id} is /api/v1/orders/{id} here.

A program sends a person’s token in “Authorization: Bearer …” and may do what that person’s role may. What a person has to prove again who it is for, such as making a receipt void, isn’t open to tokens.

What is sent is JSON, with quantities, lengths, money and days as a person would type them (“1 1/2 cords”, “16 in”, “280”, “2026-01-31”); a field that isn’t known is refused. Faults are application/problem+json (RFC 9457) with the fields that are wrong, what was read and what would be accepted.

Send an Idempotency-Key (a UUID) with whatever makes or changes something: the same key with the same content is one act, answered as the first time; with other content it is refused with 409.`

// Document is the OpenAPI document of all operations. Whom each is for is told by may,
// which gives the roles for a page's method and path, and nil for anybody.
func Document(may func(method, path string) []act.Role) ([]byte, error) {
	s, paths := newSchemas(), map[string]node{}
	for _, o := range Operations() {
		at, parameters := pathOf(o.Path)
		for _, q := range o.Query {
			parameters = append(parameters, node{"name": q.Name, "in": "query", "description": q.Says, "schema": node{"type": "string"}})
		}
		if paths[at] == nil {
			paths[at] = node{}
		}
		paths[at][strings.ToLower(o.Method)] = o.document(s, parameters, may(o.Method, o.Page))
	}
	var tally node
	if err := json.Unmarshal(forms.Schema(), &tally); err != nil {
		return nil, err
	}
	delete(tally, "$schema")
	delete(tally, "$id")
	s.named["Readings"] = tally
	s.of(reflect.TypeFor[Problem]())
	return json.MarshalIndent(node{
		"openapi": "3.1.0",
		"info":    node{"title": "Wellstowed", "version": "1", "description": about},
		"servers": []node{{"url": Prefix}},
		"paths":   paths,
		"components": node{
			"schemas":         s.named,
			"securitySchemes": node{"token": node{"type": "http", "scheme": "bearer"}},
			"responses": node{"Problem": node{"description": "It wasn’t done, and why.",
				"content": node{"application/problem+json": node{"schema": node{"$ref": "#/components/schemas/Problem"}}}}},
		},
	}, "", " ")
}

var named = regexp.MustCompile(`:(\w+)`)

// pathOf is a path as OpenAPI has it, and the parameters in it.
func pathOf(path string) (string, []node) {
	var parameters []node
	for _, m := range named.FindAllStringSubmatch(path, -1) {
		parameters = append(parameters, node{"name": m[1], "in": "path", "required": true, "schema": node{"type": "string"}})
	}
	return named.ReplaceAllString(path, "{$1}"), parameters
}

func (o Operation) document(s *schemas, parameters []node, may []act.Role) node {
	said := node{"operationId": o.ID, "summary": o.Says, "security": []node{{"token": []string{}}}}
	if may == nil {
		said["security"] = []node{}
	} else {
		said["description"] = "Open to: " + roles(may) + "."
	}
	if o.Takes != nil {
		if may != nil {
			parameters = append(parameters, node{"name": "Idempotency-Key", "in": "header", "description": "the same key is one act", "schema": node{"type": "string", "format": "uuid"}})
		}
		said["requestBody"] = node{"required": true, "content": node{"application/json": node{"schema": o.takes(s)}}}
	}
	if len(parameters) > 0 {
		said["parameters"] = parameters
	}
	status := "200"
	if o.New {
		status = "201"
	}
	said["responses"] = node{status: o.gives(s), "default": node{"$ref": "#/components/responses/Problem"}}
	return said
}

func (o Operation) takes(s *schemas) node {
	if o.Takes == (Tally{}) {
		return node{"$ref": "#/components/schemas/Readings"}
	}
	return s.typed(reflect.TypeOf(o.Takes))
}

func (o Operation) gives(s *schemas) node {
	switch o.Gives {
	case Paper{}:
		return file("a PDF", "application/pdf")
	case Archive{}:
		return file("a ZIP", "application/zip")
	}
	return node{"description": "Done.", "content": node{"application/json": node{"schema": s.field(reflect.TypeOf(o.Gives), false)}}}
}

func file(what, kind string) node {
	return node{"description": what, "content": node{kind: node{"schema": node{"type": "string", "format": "binary"}}}}
}

func roles(may []act.Role) string {
	names := make([]string, len(may))
	for i, role := range may {
		names[i] = string(role)
	}
	return strings.Join(names, ", ")
}
