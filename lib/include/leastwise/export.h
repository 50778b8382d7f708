/* What a program may link to carries LEASTWISE_API; everything else stays inside the library. */
#pragma once

#if defined(__GNUC__)
#define LEASTWISE_API __attribute__((visibility("default")))
#else
#define LEASTWISE_API
#endif
