package main

import "fmt"

type portAnswer struct {
	Name        string `json:"name"`
	Description string `json:"description"`
}

func (sys system) listPorts(o *options) error {
	ports, err := sys.ports()
	if err != nil {
		return failed("", "%w", err)
	}
	answers := make([]portAnswer, 0, len(ports))
	rows := newTable("port", "what it is")
	for _, p := range ports {
		answers = append(answers, portAnswer{plain(p.Name), plain(p.Description)})
		rows.add(p.Name, p.Description)
	}
	if o.json {
		return printJSON(sys.stdout, answers)
	}
	text := rows.String()
	if len(ports) == 0 {
		text = "There is no serial port: plug the receiver in.\n"
	}
	_, err = fmt.Fprint(sys.stdout, text)
	return err
}
