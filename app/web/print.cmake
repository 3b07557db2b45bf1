# libharu, which print is made with, and zlib, which it packs with, from Debian's sources: the same
# versions as on the desk, so the same survey gives the same PDF.
enable_language(C)
set(LEVELRUN_PRINT_SOURCES "" CACHE PATH "Folder with the sources libharu and zlib; empty: fetched once")
set(print_sources ${LEVELRUN_PRINT_SOURCES})
if(NOT print_sources)
  set(print_sources ${CMAKE_BINARY_DIR}/sources)
  foreach(package libharu zlib)
    execute_process(COMMAND sh ${CMAKE_CURRENT_SOURCE_DIR}/fetch_source.sh ${print_sources}/${package} bookworm
                            ${package}
                    RESULT_VARIABLE failed)
    if(failed)
      message(FATAL_ERROR "${package} was not fetched; give its source with -DLEVELRUN_PRINT_SOURCES=")
    endif()
  endforeach()
endif()

# What libharu's own set-up would find out; no PNG, which we do not print.
file(CONFIGURE OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/libharu/hpdf_config.h
     CONTENT "#define LIBHPDF_HAVE_NOPNGLIB\n#define LIBHPDF_STDC_HEADERS\n")
file(GLOB haru ${print_sources}/libharu/src/*.c)
list(FILTER haru EXCLUDE REGEX "_(cns|cnt|jp|kr|png)[.]c$")
set(zlib adler32 crc32 deflate trees zutil)
list(TRANSFORM zlib PREPEND ${print_sources}/zlib/)
list(TRANSFORM zlib APPEND .c)
add_library(libharu STATIC ${haru} ${zlib})
target_include_directories(libharu SYSTEM PUBLIC ${CMAKE_CURRENT_BINARY_DIR}/libharu
  ${print_sources}/libharu/include PRIVATE ${print_sources}/zlib)
target_compile_options(libharu PRIVATE -w)
