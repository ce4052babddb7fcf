# SPDX-License-Identifier: Apache-2.0
# The report in a browser: Debian's chromium, driven by playwright-core and looked at by axe-core
# (npm, versions locked in browser/package-lock.json), on node 18 or newer; printed pages are read
# by poppler-utils. Labelled slow.
find_program(NODE node REQUIRED)
find_program(NPM npm REQUIRED)
find_program(CHROMIUM NAMES chromium chromium-browser REQUIRED)
set(report_browser ${CMAKE_BINARY_DIR}/report_browser)
foreach(file IN ITEMS package.json package-lock.json)
  configure_file(${CMAKE_CURRENT_LIST_DIR}/browser/${file} ${report_browser}/${file} COPYONLY)
endforeach()
add_executable(write_reports ${CMAKE_CURRENT_LIST_DIR}/write_reports.cpp)
target_link_libraries(write_reports PRIVATE lidwright_report lidwright_drawing)

add_test(NAME report_browser_tools WORKING_DIRECTORY ${report_browser}
         COMMAND ${NPM} ci --ignore-scripts --no-audit --no-fund --silent)
set(examples ${CMAKE_SOURCE_DIR}/examples)
add_test(NAME report_browser_pages WORKING_DIRECTORY ${report_browser}
         COMMAND write_reports pages ${examples}/sample_chest.json
                 ${examples}/jewellery_casket.json ${examples}/barrel_chest.json
                 ${examples}/sample_chest_tight.json)
set_tests_properties(report_browser_tools report_browser_pages
                     PROPERTIES FIXTURES_SETUP report_browser LABELS slow TIMEOUT 300)
foreach(what IN ITEMS head mesh swing solid page film)
  add_test(NAME report_browser_${what} WORKING_DIRECTORY ${report_browser}
           COMMAND ${NODE} --test ${CMAKE_CURRENT_LIST_DIR}/browser/${what}_test.mjs)
  set_tests_properties(
    report_browser_${what} PROPERTIES FIXTURES_REQUIRED report_browser LABELS slow TIMEOUT 600
                                      ENVIRONMENT CHROMIUM=${CHROMIUM})
endforeach()
# A browser on every core would only wait for its own.
set_tests_properties(report_browser_head report_browser_swing report_browser_solid report_browser_page
                     report_browser_film
                     PROPERTIES RESOURCE_LOCK browser)

# The mock-up's page, which is served by the program.
add_test(NAME app_mockup_page WORKING_DIRECTORY ${report_browser}
         COMMAND ${NODE} --test ${CMAKE_SOURCE_DIR}/tests/app/mockup_page_test.mjs)
set_tests_properties(
  app_mockup_page
  PROPERTIES FIXTURES_REQUIRED report_browser LABELS slow TIMEOUT 300 RESOURCE_LOCK browser
             ENVIRONMENT
             "CHROMIUM=${CHROMIUM};PROGRAM=$<TARGET_FILE:lidwright>;EXAMPLES=${examples};WORK=${CMAKE_BINARY_DIR}/mockup_page")
