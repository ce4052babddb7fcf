# SPDX-License-Identifier: Apache-2.0
# Drawings written by one independent library, traced by the program, and compared with what
# another reading of the same file says: ezdxf for DXF, svgelements and librsvg for SVG, all of
# Debian (python3-ezdxf, python3-svgelements, python3-numpy, librsvg2-bin, poppler-utils).
foreach(what IN ITEMS dxf svg boards measured wild)
  add_test(NAME trace_${what}
           COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/read_back_${what}.py
                   $<TARGET_FILE:lidwright> ${CMAKE_SOURCE_DIR}/examples)
  set_tests_properties(trace_${what} PROPERTIES TIMEOUT 300)
endforeach()
