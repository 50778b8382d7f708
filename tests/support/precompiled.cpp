// The headers of all tests are precompiled for this file: main.cpp cannot serve, since it defines
// what they only declare.
