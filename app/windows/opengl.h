// What both desktop windows do with OpenGL: ImGui's draw data over a plain sheet, the atlas's
// texture.
#pragma once

#include <imgui.h>
#include <imgui_impl_opengl3.h>

#if defined(__APPLE__)
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

}  // namespace levelrun
