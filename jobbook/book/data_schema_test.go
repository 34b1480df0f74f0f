package book

import (
	"bytes"
	"encoding/json"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/working"
)

const schemaFile = "plan.schema.json"

// TestSchemaIsOfTheTypes holds the schema that goes with every book to the types that plan.json is written from. With -update it is made from them anew.
func TestSchemaIsOfTheTypes(t *testing.T) {
	var made bytes.Buffer
	e := json.NewEncoder(&made)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(schemaOfTypes()); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(schemaFile, made.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		planSchema = made.String() // for the tests that follow
	}
	if diff := cmp.Diff(strings.Split(planSchema, "\n"), strings.Split(made.String(), "\n")); diff != "" {
		t.Errorf("%s: want + (go test ./jobbook/book -update), is -:\n%s", schemaFile, diff)
	}
}

// schemaEnums are the words that a property with the tag enum may hold.
var schemaEnums = map[string][]string{
	"format":   {planFormat},
	"units":    {"in", "mm"},
	"operator": finding.Ops,
	"verdict":  finding.Verdicts,
	"status":   working.Statuses,
	"part":     {"from", "between", "to"},
	"end":      {"from", "to"},
	"floor":    {"level", "scribe", "lengths"},
	"stick":    stickSources,
	"fate":     fateNames,
	"change":   changeSorts(),
	"rounding": {"down", "to the nearest", "up", "unrounded"},
}

// changeSorts are the words for sorts of change.
func changeSorts() (words []string) {
	for _, s := range changes.Sorts {
		words = append(words, string(s))
	}
	return words
}

// schemaObject is a JSON object whose members keep their order.
type schemaObject []schemaMember

type schemaMember struct {
	key   string
	value any
}

// MarshalJSON writes the members in their order.
func (o schemaObject) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		key, err := json.Marshal(m.key)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// schemaOfTypes is the JSON Schema (2020-12) of plan.json, made from its types. Every property has a description, and x-unit says
// what it is counted in.
func schemaOfTypes() schemaObject {
	defs := &schemaObject{}
	whole := structSchema(reflect.TypeFor[dataPlan](), defs)
	head := schemaObject{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "urn:" + strings.ReplaceAll(planFormat, "/", ":")},
		{"title", "The plan of a guard, " + planFormat},
		{"description", "Every number that a job book shows, and how it came about. A property that is not required is absent where there is nothing to say; none is ever null. Lengths are exact; other numbers are in the unit named beside them. x-unit says what a property is counted in."},
	}
	return append(append(head, whole...), schemaMember{"$defs", *defs})
}

// structSchema is the schema of an object, and adds to defs those of the objects in it.
func structSchema(t reflect.Type, defs *schemaObject) schemaObject {
	required := []string{}
	var properties schemaObject
	for i := range t.NumField() {
		f := t.Field(i)
		name, optional := strings.CutSuffix(f.Tag.Get("json"), ",omitempty")
		if !optional {
			required = append(required, name)
		}
		property := schemaObject{{"description", f.Tag.Get("doc")}, {"x-unit", f.Tag.Get("unit")}}
		property = append(property, typeSchema(f.Type, defs)...)
		if words := f.Tag.Get("enum"); words != "" {
			property = append(property, schemaMember{"enum", schemaEnums[words]})
		}
		if least := f.Tag.Get("min"); least != "" {
			property = append(property, schemaMember{"minimum", json.Number(least)})
		}
		properties = append(properties, schemaMember{name, property})
	}
	return schemaObject{{"type", "object"}, {"additionalProperties", false}, {"required", required}, {"properties", properties}}
}

// typeSchema says which values a Go type is written as.
func typeSchema(t reflect.Type, defs *schemaObject) schemaObject {
	switch {
	case t.Kind() == reflect.Pointer:
		return typeSchema(t.Elem(), defs)
	case t == reflect.TypeFor[json.Number]():
		return schemaObject{{"type", "number"}}
	case t.Kind() == reflect.Slice:
		return schemaObject{{"type", "array"}, {"items", typeSchema(t.Elem(), defs)}}
	case t.Kind() == reflect.Struct:
		name := strings.ToLower(strings.TrimPrefix(t.Name(), "data"))
		defineSchema(name, t, defs)
		return schemaObject{{"$ref", "#/$defs/" + name}}
	case t.Kind() == reflect.Bool:
		return schemaObject{{"type", "boolean"}}
	case t.Kind() == reflect.Int, t.Kind() == reflect.Int64:
		return schemaObject{{"type", "integer"}}
	}
	return schemaObject{{"type", "string"}}
}

// defineSchema adds the schema of an schemaObject to defs, once.
func defineSchema(name string, t reflect.Type, defs *schemaObject) {
	for _, d := range *defs {
		if d.key == name {
			return
		}
	}
	at := len(*defs)
	*defs = append(*defs, schemaMember{name, nil}) // the place is taken first: what it holds may hold others
	made := structSchema(t, defs)
	(*defs)[at].value = made
}
