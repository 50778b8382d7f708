// The one file for which the headers of all tests are precompiled: main.cpp cannot be, since it defines
// what they only declare.
