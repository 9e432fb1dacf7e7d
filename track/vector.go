package track

import "math"

func dot(a, b Vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func sub(a, b Vector) Vector { return Vector{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func cross(a, b Vector) Vector {
	return Vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func norm(a Vector) float64 { return math.Sqrt(dot(a, a)) }

func scale(a Vector, f float64) Vector { return Vector{a[0] * f, a[1] * f, a[2] * f} }

// turnZ expresses a vector in axes turned about z by an angle given as its
// sine and cosine, counter-clockwise seen from north.
func turnZ(a Vector, sin, cos float64) Vector {
	return Vector{cos*a[0] + sin*a[1], -sin*a[0] + cos*a[1], a[2]}
}
