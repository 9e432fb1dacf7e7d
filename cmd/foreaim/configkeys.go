package main

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// keyPositions are the places of a configuration's keys and tables: "site",
// "site.latitude_deg", "satellite[1].period".
type keyPositions map[string]unstable.Position

// findKeys finds where each key stands. It stops at the first mistake, which
// the decoder reports.
func findKeys(data []byte) keyPositions {
	found := keyPositions{}
	table, count := "", map[string]int{} // by the name of an array of tables
	var p unstable.Parser
	p.Reset(data)
	for p.NextExpression() {
		e := p.Expression()
		var parts []string
		var position unstable.Position
		for keys := e.Key(); keys.Next(); {
			if len(parts) == 0 {
				position = p.Shape(keys.Node().Raw).Start
			}
			parts = append(parts, string(keys.Node().Data))
		}
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = ""
			for i, part := range parts {
				table = strings.TrimPrefix(table+"."+part, ".")
				if e.Kind == unstable.ArrayTable && i == len(parts)-1 {
					count[table]++
				}
				if n := count[table]; n > 0 {
					table = fmt.Sprintf("%s[%d]", table, n)
				}
			}
			found[table] = position
		case unstable.KeyValue:
			found[strings.TrimPrefix(table+"."+strings.Join(parts, "."), ".")] = position
		}
	}
	return found
}

// place says where a key stands, or its table, or the file.
func (k keyPositions) place(file, key string) string {
	for {
		if at, ok := k[key]; ok {
			return fmt.Sprintf("%s:%d:%d", file, at.Line, at.Column)
		}
		cut := strings.LastIndexAny(key, ".[")
		if cut < 0 {
			return file
		}
		key = key[:cut]
	}
}

// knownKeys says which keys would be right in the table of an unknown one.
func knownKeys(key []string) string {
	in, table := reflect.TypeFor[configFile](), ""
	for _, part := range key[:len(key)-1] {
		field, ok := fieldOf(in, part)
		if !ok {
			break
		}
		in, table = field, strings.TrimPrefix(table+"."+part, ".")
	}
	var names []string
	for _, field := range reflect.VisibleFields(in) {
		if key := field.Tag.Get("toml"); key != "" {
			names = append(names, key)
		}
	}
	if table == "" {
		return "the tables and keys are " + strings.Join(names, ", ")
	}
	return fmt.Sprintf("the keys of [%s] are %s", table, strings.Join(names, ", "))
}

// fieldOf is the table behind a key of a table.
func fieldOf(table reflect.Type, key string) (reflect.Type, bool) {
	for _, field := range reflect.VisibleFields(table) {
		if field.Tag.Get("toml") != key {
			continue
		}
		t := field.Type
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		return t, t.Kind() == reflect.Struct
	}
	return nil, false
}
