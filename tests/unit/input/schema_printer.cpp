#include <leastwise/load.hpp>

#include <iostream>

/// Prints the schema the library carries, for schema_test.py.
int main() { std::cout << leastwise::scenario_schema(); }
