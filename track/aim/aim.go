// Package aim says where to point next.
package aim
