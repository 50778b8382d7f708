#include <leastwise/leastwise.h>
#include <leastwise/version.hpp>

#include <cstdlib>

// The version is a literal, so it ends in a zero byte.
const char* leastwise_version(void) { return leastwise::version().data(); }

void leastwise_text_free(char* text) { std::free(text); }
