# ribbay_embed(<target> <function> <folder> <file>...): the texts of files in `folder` go into the target, so that
# an installed program needs none of them. The target declares the function itself:
#   namespace ribbay::detail { std::string_view <function>(std::string_view file); }  // empty: no such file
function(ribbay_embed target function folder)
  set(output ${CMAKE_CURRENT_BINARY_DIR}/${function}.cpp)
  list(TRANSFORM ARGN PREPEND ${folder}/ OUTPUT_VARIABLE sources)
  list(JOIN ARGN "|" files)
  add_custom_command(
    OUTPUT ${output}
    COMMAND ${CMAKE_COMMAND} -DOUTPUT=${output} -DFUNCTION=${function} -DFOLDER=${folder} "-DFILES=${files}"
            -P ${CMAKE_SOURCE_DIR}/cmake/embed_files.cmake
    DEPENDS ${sources} ${CMAKE_SOURCE_DIR}/cmake/embed_files.cmake
    VERBATIM)
  target_sources(${target} PRIVATE ${output})
endfunction()
