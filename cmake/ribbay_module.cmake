# One folder is one library with one include root. A folder that is not named in USES or HIDES is not on
# the include path, so a wrong include does not compile.

add_library(ribbay_flags INTERFACE)
target_compile_options(ribbay_flags INTERFACE
  -Wall -Wextra -Wshadow -Wconversion -Werror
  -Wno-restrict -Wno-stringop-overflow -Wno-array-bounds  # g++ 12 reports "text" + std::string falsely (GCC bug 105651)
  -ffp-contract=off)  # fused multiply-add would change cut plans and bytes from machine to machine
if(RIBBAY_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-omit-frame-pointer -fno-sanitize-recover=undefined)
  add_link_options(-fsanitize=address,undefined)
endif()

# The headers of the standard library that most sources include, compiled once for all libraries. A source still
# includes what it uses: the build of `make tidy` goes without.
set(ribbay_std_headers <algorithm> <array> <cmath> <functional> <limits> <map> <memory> <numbers> <numeric> <optional>
                       <set> <span> <string> <string_view> <tuple> <utility> <vector>)
file(WRITE ${CMAKE_BINARY_DIR}/ribbay_std.cpp "")
add_library(ribbay_std OBJECT ${CMAKE_BINARY_DIR}/ribbay_std.cpp)
target_link_libraries(ribbay_std PRIVATE ribbay_flags)
target_precompile_headers(ribbay_std PRIVATE ${ribbay_std_headers})

# ribbay_module(<name> USES <libraries seen by its users> HIDES <libraries seen only in src/>)
function(ribbay_module name)
  cmake_parse_arguments(M "" "" "USES;HIDES" ${ARGN})
  file(GLOB headers CONFIGURE_DEPENDS include/${name}/*.hpp)
  file(GLOB sources CONFIGURE_DEPENDS src/*.cpp src/*/*.cpp)
  if(sources)
    add_library(${name} STATIC ${sources})
    target_sources(${name} PUBLIC FILE_SET HEADERS BASE_DIRS include FILES ${headers})
    target_include_directories(${name} PRIVATE src)
    target_link_libraries(${name} PUBLIC ${M_USES} PRIVATE ${M_HIDES} $<BUILD_INTERFACE:ribbay_flags>)
    if(cgal_headers IN_LIST M_HIDES)  # it brings flags of its own
      target_precompile_headers(${name} PRIVATE ${ribbay_std_headers})
    else()
      target_precompile_headers(${name} REUSE_FROM ribbay_std)
    endif()
  else()
    add_library(${name} INTERFACE)
    target_sources(${name} INTERFACE FILE_SET HEADERS BASE_DIRS include FILES ${headers})
    target_link_libraries(${name} INTERFACE ${M_USES})
  endif()
  set_property(GLOBAL APPEND PROPERTY RIBBAY_MODULES ${name})
  set_property(GLOBAL PROPERTY RIBBAY_USES_${name} "${M_USES}")
  set_property(GLOBAL PROPERTY RIBBAY_HIDES_${name} "${M_HIDES}")
endfunction()

# The test library's header, compiled once for all test binaries (see tests/CMakeLists.txt for test_support).
function(ribbay_precompile_catch)
  file(WRITE ${CMAKE_BINARY_DIR}/ribbay_catch.cpp "")
  add_library(ribbay_catch OBJECT ${CMAKE_BINARY_DIR}/ribbay_catch.cpp)
  target_link_libraries(ribbay_catch PRIVATE test_support ribbay_flags)
  target_compile_options(ribbay_catch PRIVATE $<$<CONFIG:Release>:-O1>)
  target_precompile_headers(ribbay_catch PRIVATE <catch2/catch.hpp> ${ribbay_std_headers})
endfunction()

# ribbay_tests(<library> USES <further libraries>): one test binary per library, from tests/<library>/*.cpp
function(ribbay_tests name)
  cmake_parse_arguments(T "" "" "USES" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/${name}/*.cpp)
  if(NOT sources)
    return()
  endif()
  add_executable(${name}_tests ${sources})
  target_link_libraries(${name}_tests PRIVATE test_support ${T_USES} ribbay_flags)
  # Assertions are many and each runs once: compiling them well costs more than it saves.
  target_compile_options(${name}_tests PRIVATE $<$<CONFIG:Release>:-O1>)
  if(cgal_headers IN_LIST T_USES)
    target_precompile_headers(${name}_tests PRIVATE <catch2/catch.hpp>)
  else()
    target_precompile_headers(${name}_tests REUSE_FROM ribbay_catch)
  endif()
  catch_discover_tests(${name}_tests TEST_PREFIX "${name}: " DISCOVERY_MODE PRE_TEST)
endfunction()

# ribbay_write_modules(<file>): what every module may see, for the architecture test. One line each:
# name|folder|what its users see|what only its src/ sees
function(ribbay_write_modules file)
  get_property(modules GLOBAL PROPERTY RIBBAY_MODULES)
  set(lines "")
  foreach(name IN LISTS modules)
    get_property(uses GLOBAL PROPERTY RIBBAY_USES_${name})
    get_property(hides GLOBAL PROPERTY RIBBAY_HIDES_${name})
    get_target_property(folder ${name} SOURCE_DIR)
    string(APPEND lines "${name}|${folder}|${uses}|${hides}\n")
  endforeach()
  file(CONFIGURE OUTPUT ${file} CONTENT "${lines}" @ONLY)
endfunction()
