// The checks of the source need only the standard library; a module of their own keeps it so,
// and keeps what the tools in ../tools require out of them.
module example.org/saddlepoint/.ci/house

go 1.23.0
