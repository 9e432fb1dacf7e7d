package gps

import "testing"

// Whatever ports this computer has: each has a name that opens as a URL.
func TestPorts(t *testing.T) {
	ports, err := Ports()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ports {
		if a, err := parseAddress("serial:" + p.Name); err != nil || a.path != p.Name {
			t.Errorf("port %+v as a URL: %+v, %v", p, a, err)
		}
	}
}

func TestDescribe(t *testing.T) {
	for _, c := range []struct{ manufacturer, product, vendor, id, want string }{
		{"Acme", "GNSS  receiver", "1234", "abcd", "Acme GNSS receiver USB 1234:abcd"},
		{"Acme", "Acme receiver\x1b", "1234", "abcd", "Acme receiver USB 1234:abcd"},
		{"", "", "1234", "abcd", "USB 1234:abcd"},
		{"", "", "", "", "USB"},
	} {
		if got := describe(c.manufacturer, c.product, c.vendor, c.id); got != c.want {
			t.Errorf("describe(%q, %q) = %q, want %q", c.manufacturer, c.product, got, c.want)
		}
	}
}
