// What the desktop windows and the web page do with OpenGL: ImGui's draw data over a plain sheet,
// the atlas's texture, and textures of pictures.
#pragma once

#include <imgui.h>
#include <imgui_impl_opengl3.h>

#include <cstdint>
#include <initializer_list>

#if defined(__EMSCRIPTEN__)
#include <GLES3/gl3.h>
#elif defined(__APPLE__)
#include <OpenGL/gl3.h>
#else
#include <GL/gl.h>
#endif

namespace levelrun {

inline void take_fonts_again() {
  ImGui_ImplOpenGL3_DestroyFontsTexture();
  ImGui_ImplOpenGL3_CreateFontsTexture();
}

inline void draw_over(ImVec4 background, ImDrawData* data) {
  glViewport(0, 0, int(data->DisplaySize.x * data->FramebufferScale.x),
             int(data->DisplaySize.y * data->FramebufferScale.y));
  glClearColor(background.x, background.y, background.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(data);
}

// Null: the card has no room for it. The context must be current.
inline void* make_texture(const std::uint8_t* rgba, int w, int h) {
  while (glGetError() != GL_NO_ERROR) {
  }
  GLuint name = 0;
  glGenTextures(1, &name);
  glBindTexture(GL_TEXTURE_2D, name);
  for (const GLenum filter : {GL_TEXTURE_MIN_FILTER, GL_TEXTURE_MAG_FILTER})
    glTexParameteri(GL_TEXTURE_2D, filter, GL_LINEAR);
  for (const GLenum wrap : {GL_TEXTURE_WRAP_S, GL_TEXTURE_WRAP_T})
    glTexParameteri(GL_TEXTURE_2D, wrap, GL_CLAMP_TO_EDGE);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, w, h, 0, GL_RGBA, GL_UNSIGNED_BYTE, rgba);
  if (glGetError() != GL_NO_ERROR) {
    glDeleteTextures(1, &name);
    return nullptr;
  }
  return reinterpret_cast<void*>(std::uintptr_t(name));
}

inline void delete_texture(void* texture) {
  const auto name = GLuint(reinterpret_cast<std::uintptr_t>(texture));
  glDeleteTextures(1, &name);
}

}  // namespace levelrun
