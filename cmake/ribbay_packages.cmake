# Every library from outside, each behind one target with SYSTEM includes, so that our warnings stay ours.
# Each is linked by the one folder that needs it (see modeler/ and exporters/).

find_package(Threads REQUIRED)
find_package(tl-expected REQUIRED)
find_package(Boost REQUIRED)  # headers only: exact areas on a whole-number grid
find_package(Eigen3 REQUIRED NO_MODULE)  # before CGAL, which looks for it in its own way
find_package(nlohmann_json REQUIRED)
find_package(CLI11 REQUIRED)
find_package(Catch2 2.13 REQUIRED)
include(Catch)

find_package(PkgConfig REQUIRED)
pkg_check_modules(tomlplusplus REQUIRED IMPORTED_TARGET tomlplusplus)
pkg_check_modules(assimp REQUIRED IMPORTED_TARGET assimp)
pkg_check_modules(muparser REQUIRED IMPORTED_TARGET muparser)  # tests only
pkg_check_modules(librsvg REQUIRED IMPORTED_TARGET librsvg-2.0)  # tests only
pkg_check_modules(libqrencode REQUIRED IMPORTED_TARGET libqrencode)
pkg_check_modules(cairo_pdf REQUIRED IMPORTED_TARGET cairo-pdf)

find_library(GLPK_LIBRARY glpk REQUIRED)
find_path(GLPK_INCLUDE_DIR glpk.h REQUIRED)
add_library(glpk INTERFACE)
target_include_directories(glpk SYSTEM INTERFACE ${GLPK_INCLUDE_DIR})
target_link_libraries(glpk INTERFACE ${GLPK_LIBRARY})

find_package(OpenCASCADE REQUIRED)
function(ribbay_kernel_target name)
  add_library(${name} INTERFACE)
  target_include_directories(${name} SYSTEM INTERFACE ${OpenCASCADE_INCLUDE_DIR})
  target_link_libraries(${name} INTERFACE ${ARGN})
endfunction()
ribbay_kernel_target(occt_modeling TKernel TKMath TKG2d TKG3d TKGeomBase TKBRep TKGeomAlgo TKTopAlgo TKPrim TKBO TKBool TKShHealing TKMesh)
ribbay_kernel_target(occt_exchange TKLCAF TKCAF TKXCAF TKCDF TKXSBase TKSTEPBase TKSTEPAttr TKSTEP209 TKSTEP TKXDESTEP)
ribbay_kernel_target(occt_hidden_lines TKHLR)

# CGAL is header-only and wants -frounding-math; the flag stays on the targets that link this one privately.
add_library(cgal_headers INTERFACE)
find_package(CGAL REQUIRED QUIET)
target_link_libraries(cgal_headers INTERFACE CGAL::CGAL)
