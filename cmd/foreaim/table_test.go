package main

import "testing"

func TestTable(t *testing.T) {
	rows := newTable("name", ">height", "empty", "note")
	rows.add("wide 衛星", "7", "", "a")
	rows.add("x\x1b[0m", "1234567", "", "")
	want := "name        height  note\nwide 衛星        7  a\nx[0m       1234567\n"
	if got := rows.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
