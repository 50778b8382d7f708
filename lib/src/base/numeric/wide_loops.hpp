#pragma once
#include <cstddef>

/// In front of a function of a single file (another would leave a shared library) whose loops run
/// over many numbers: a second version of it for processors that take four at a time. Both give the
/// same digits: no sum is taken in another order, and a product is rounded before it is added (AVX2
/// alone, without FMA; -ffp-contract=off).
#if defined(__x86_64__) && defined(__GLIBC__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__) && defined(__OPTIMIZE__)
#define LEASTWISE_WIDE_LOOPS __attribute__((target_clones("avx2", "default")))
#else
#define LEASTWISE_WIDE_LOOPS
#endif
