module example.org/saddlepoint

go 1.23.0

require (
	github.com/chzyer/readline v1.5.1
	github.com/google/go-cmp v0.7.0
	golang.org/x/exp v0.0.0-20250305212735-054e65f0b394
)

require golang.org/x/sys v0.0.0-20220310020820-b874c991c1a5 // indirect
