# yaml-cpp 0.7 names its target `yaml-cpp`, later versions `yaml-cpp::yaml-cpp`. Both names work
# after this, whichever version is installed: an export made with one is read with the other.
if(TARGET yaml-cpp AND NOT TARGET yaml-cpp::yaml-cpp)
  add_library(yaml-cpp::yaml-cpp ALIAS yaml-cpp)
elseif(TARGET yaml-cpp::yaml-cpp AND NOT TARGET yaml-cpp)
  add_library(yaml-cpp ALIAS yaml-cpp::yaml-cpp)
endif()
