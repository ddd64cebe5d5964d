//! One module a promise that the program makes.
