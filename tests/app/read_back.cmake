# SPDX-License-Identifier: Apache-2.0
# The cut files of a finished job, read back by an independent library and compared with hinge.json.
add_test(NAME job_read_back
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/read_back.py
                 $<TARGET_FILE:lidwright> ${CMAKE_SOURCE_DIR}/examples)
set_tests_properties(job_read_back PROPERTIES TIMEOUT 300)
add_test(NAME begin_on_terminal
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/begin_on_terminal.py
                 $<TARGET_FILE:lidwright>)
set_tests_properties(begin_on_terminal PROPERTIES TIMEOUT 120)

# What the mock-up's server refuses, serves and writes.
add_test(NAME app_mockup_server
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/mockup_server.py $<TARGET_FILE:lidwright>
                 ${CMAKE_SOURCE_DIR}/examples ${CMAKE_BINARY_DIR}/mockup_server)
add_test(NAME app_mockup_writes_what_fit_writes
         COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/mockup_server.py $<TARGET_FILE:lidwright>
                 ${CMAKE_SOURCE_DIR}/examples ${CMAKE_BINARY_DIR}/mockup_set whole)
set_tests_properties(app_mockup_server PROPERTIES TIMEOUT 120)
set_tests_properties(app_mockup_writes_what_fit_writes PROPERTIES LABELS slow TIMEOUT 300)

# Calls of the system that fail while check and fit run: hidden tests, as each call costs a run.
add_test(NAME app_faulty_check_and_fit COMMAND lidwright_tests "[faults]")
set_tests_properties(app_faulty_check_and_fit PROPERTIES LABELS slow TIMEOUT 900 COST 200)

# The Debian package; what is instrumented is not given away.
if(NOT LIDWRIGHT_SANITIZE)
  add_test(NAME app_package COMMAND bash ${CMAKE_CURRENT_LIST_DIR}/package.sh ${CMAKE_BINARY_DIR})
  set_tests_properties(app_package PROPERTIES LABELS slow TIMEOUT 300 SKIP_RETURN_CODE 77)
endif()
