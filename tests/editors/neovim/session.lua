-- One session of Neovim's own language client (0.7 or later) with the server. Run headless with the
-- working folder at a copy of the notes; writes what it saw as JSON to $TIPTOE_RESULT.
-- Everything waits for what it needs, with a ceiling that only a failure meets.
local CEILING = 30000
local seen = {}

local function finish(problem)
  seen.problem = problem
  local file = assert(io.open(os.getenv('TIPTOE_RESULT'), 'w'))
  file:write(vim.json.encode(seen))
  file:close()
  vim.cmd('qall!')
end

local function await(what, condition)
  if not vim.wait(CEILING, condition, 20) then error('waited in vain for ' .. what) end
end

local function text(buffer)
  return table.concat(vim.api.nvim_buf_get_lines(buffer or 0, 0, -1, false), '\n')
end

-- Puts the cursor on the n-th place of a plain text.
local function at(plain, skip)
  vim.api.nvim_win_set_cursor(0, { 1, 0 })
  for _ = 1, 1 + (skip or 0) do
    assert(vim.fn.search('\\V' .. plain, 'W') > 0, 'no ' .. plain)
  end
end

local function request(method, extra)
  local params = vim.tbl_extend('force', vim.lsp.util.make_position_params(), extra or {})
  local answers = vim.lsp.buf_request_sync(0, method, params, CEILING)
  for _, answer in pairs(answers or {}) do
    if answer.error then error(method .. ': ' .. vim.inspect(answer.error)) end
    return answer.result
  end
end

local function run()
  vim.cmd('edit note.tiptoe')
  local client = vim.lsp.start_client({
    name = 'tiptoe',
    cmd = { os.getenv('TIPTOE_NODE'), os.getenv('TIPTOE_SERVER'), '--stdio' },
    root_dir = vim.fn.getcwd(),
    capabilities = vim.lsp.protocol.make_client_capabilities(),
  })
  assert(client, 'the client did not start')
  assert(vim.lsp.buf_attach_client(0, client), 'the client did not attach')
  await('the server', function()
    local found = vim.lsp.get_client_by_id(client)
    return found ~= nil and found.initialized == true
  end)

  await('findings', function() return #vim.diagnostic.get(0) > 0 end)
  seen.findings = vim.tbl_map(function(finding)
    return { line = finding.lnum + 1, code = finding.code or finding.user_data.lsp.code, text = finding.message }
  end, vim.diagnostic.get(0))

  at('[U1] @loft')
  seen.hover = request('textDocument/hover').contents
  at('climb*2')
  seen.definition = request('textDocument/definition')
  seen.references = #request('textDocument/references', { context = { includeDeclaration = true } })

  at('climb*2')
  local items = request('textDocument/completion')
  seen.completion = vim.tbl_map(function(item) return item.label end, items.items or items)

  at('D1')
  -- Where several actions are offered, take the first that speaks of writing.
  vim.ui.select = function(choices, options, choose)
    local titles = {}
    for i, choice in ipairs(choices) do
      titles[i] = options.format_item and options.format_item(choice) or tostring(choice)
    end
    seen.actions = titles
    for i, title in ipairs(titles) do
      if title:find('Write D') then return choose(choices[i], i) end
    end
    choose(nil, nil)
  end
  vim.lsp.buf.code_action()
  await('the action', function() return text():find('D1', 1, true) == nil end)

  at('climb*2')
  vim.lsp.buf.rename('stairs')
  await('the new name', function() return text():find('stairs*2', 1, true) ~= nil end)
  local other = vim.fn.bufnr('phrases.tiptoe')
  await('the new name in the other file', function()
    other = vim.fn.bufnr('phrases.tiptoe')
    return other > 0 and text(other):find('let stairs', 1, true) ~= nil
  end)
  -- What a FileType command of the user's would do: the buffer that the rename opened belongs along.
  vim.lsp.buf_attach_client(other, client)
  seen.renamed = { here = text(), there = text(other) }

  vim.lsp.buf.formatting_sync(nil, CEILING)
  seen.formatted = text()

  -- Mend the name that is wrong: its finding must go.
  at('claim_nobody_knows')
  vim.api.nvim_buf_set_lines(0, vim.fn.line('.') - 1, vim.fn.line('.'), false, { '  U' })
  seen.last = {}
  await('the findings to go', function()
    seen.last = vim.tbl_map(function(each) return each.message end, vim.diagnostic.get(0))
    for _, finding in ipairs(vim.diagnostic.get(0)) do
      if finding.severity == vim.diagnostic.severity.ERROR then return false end
    end
    return true
  end)
  seen.mended = true

  vim.lsp.stop_client(client)
  await('the server to stop', function() return vim.lsp.get_client_by_id(client) == nil end)
  seen.stopped = true
end

local ok, problem = pcall(run)
finish(not ok and tostring(problem) or nil)
