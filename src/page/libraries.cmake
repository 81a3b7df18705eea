# The libraries as the page's compiler sees them. All are used as headers alone: it can't link what
# the system has compiled, and must not see the rest of the system's headers. So those wanted are
# linked into a folder of their own.
set(headers ${PROJECT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(entry Eigen:eigen3/Eigen unsupported:eigen3/unsupported CGAL boost nlohmann valijson fmt stb)
  string(REGEX REPLACE ":.*" "" name ${entry})
  string(REGEX REPLACE ".*:" "" place ${entry})
  find_path(RIMLOAD_ROOT_OF_${name} NAMES ${place} PATHS /usr/include /usr/local/include
    NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH REQUIRED)
  file(CREATE_LINK ${RIMLOAD_ROOT_OF_${name}}/${place} ${headers}/${name} SYMBOLIC)
endforeach()

foreach(library Eigen3::Eigen nlohmann_json::nlohmann_json valijson fmt::fmt CGAL::CGAL)
  add_library(${library} INTERFACE IMPORTED)
  target_include_directories(${library} SYSTEM INTERFACE ${headers})
endforeach()
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)
# No GMP there; and WebAssembly rounds to nearest only, which CGAL must be told.
target_compile_definitions(CGAL::CGAL INTERFACE CGAL_DISABLE_GMP CGAL_NO_GMP CGAL_NO_MPFR
  CGAL_DISABLE_ROUNDING_MATH_CHECK CGAL_ALWAYS_ROUND_TO_NEAREST)
