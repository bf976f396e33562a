// The mutation tester needs only the standard library; a module of its own keeps it out of ours.
module example.org/saddlepoint/.ci/mutate

go 1.23.0
