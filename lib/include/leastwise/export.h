#pragma once

/* What a program may link to carries LEASTWISE_API; everything else stays inside the library. */
#if defined(__GNUC__)
#define LEASTWISE_API __attribute__((visibility("default")))
#else
#define LEASTWISE_API
#endif

/* An enumeration that callers hand in. In C++, too, it may hold any number: a wrong one is refused,
   which could not be asked of a type that has no such value. */
#if defined(__cplusplus)
#define LEASTWISE_ANY_VALUE : unsigned
#else
#define LEASTWISE_ANY_VALUE
#endif
