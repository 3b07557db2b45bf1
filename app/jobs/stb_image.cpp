// The one place where stb's readers and writers of pictures are compiled: JPEG and PNG only, from
// memory only, so that no other format's reader can be reached by a file. Memory comes cleared,
// because a damaged file may have it read before it is written.
#include <cstdlib>

#define STBI_MALLOC(bytes) std::calloc(1, bytes)
#define STBI_REALLOC(at, bytes) std::realloc(at, bytes)
#define STBI_FREE(at) std::free(at)
#define STBI_ONLY_JPEG
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#define STB_IMAGE_IMPLEMENTATION
#include <stb/stb_image.h>

#define STBI_WRITE_NO_STDIO
#define STB_IMAGE_WRITE_IMPLEMENTATION
#include <stb/stb_image_write.h>
