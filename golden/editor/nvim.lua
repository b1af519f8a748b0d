-- A session of Neovim with the server: what is done is said, and what came of it, a line of JSON each in the file
-- GRIDFERRY_SAID. GRIDFERRY_COMMAND is the server's program, GRIDFERRY_PLAN the plan that is open.
local said = {}

local function say(what, came)
  table.insert(said, vim.fn.json_encode({ what = what, came = came }))
  vim.fn.writefile(said, vim.env.GRIDFERRY_SAID)
end

local config = {
  name = 'gridferry',
  cmd = { vim.env.GRIDFERRY_COMMAND, 'lsp' },
  root_dir = vim.fn.fnamemodify(vim.env.GRIDFERRY_PLAN, ':h'),
}

vim.cmd('edit ' .. vim.fn.fnameescape(vim.env.GRIDFERRY_PLAN))
if vim.lsp.start then -- from Neovim 0.8 on
  vim.lsp.start(config)
else
  vim.lsp.buf_attach_client(0, vim.lsp.start_client(config))
end

-- settled waits until a condition holds.
local function settled(what, condition)
  if not vim.wait(20000, condition, 20) then
    say('waited in vain', what)
    vim.cmd('cquit')
  end
end

-- find is the line of a pattern, from 1, and the bytes before it.
local function find(pattern)
  for n, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
    local at = line:find(pattern)
    if at then
      return n, at - 1
    end
  end
  say('not found', pattern)
  vim.cmd('cquit')
end

local function diagnostics()
  local all = {}
  for _, d in ipairs(vim.diagnostic.get(0)) do
    table.insert(all, ('%d:%d %s [%s]'):format(d.lnum + 1, d.col + 1, d.message:gsub('\n.*', ''), d.code or d.user_data.lsp.code))
  end
  return all
end

local function ask(method, params)
  local answers = vim.lsp.buf_request_sync(0, method, params, 20000) or {}
  for _, a in pairs(answers) do
    return a.result
  end
end

settled('the server', function()
  return #vim.lsp.buf_get_clients(0) > 0 or next(vim.lsp.buf_get_clients(0)) ~= nil
end)

local line, at = find('frame: [a-z]')
local frame = vim.api.nvim_buf_get_lines(0, line - 1, line, false)[1]:match('frame: ([a-z]+)')
local from = at + #'frame: '
vim.api.nvim_buf_set_text(0, line - 1, from, line - 1, from + #frame, { frame:sub(1, 2) })
settled('findings', function()
  return #vim.diagnostic.get(0) > 0
end)
say(('on line %d "%s" is cut to "%s"'):format(line, frame, frame:sub(1, 2)), diagnostics())

vim.api.nvim_win_set_cursor(0, { line, from + 2 })
local list = ask('textDocument/completion', vim.tbl_extend('force', vim.lsp.util.make_position_params(), {
  position = { line = line - 1, character = from + 2 },
}))
local labels = {}
for _, item in ipairs(list.items or list) do
  table.insert(labels, item.label)
  if item.label == frame then
    vim.lsp.util.apply_text_edits({ item.textEdit }, vim.api.nvim_get_current_buf(), 'utf-16')
  end
end
say(('a completion is asked for behind "%s", and "%s" is taken'):format(frame:sub(1, 2), frame), labels)
settled('no findings', function()
  return #vim.diagnostic.get(0) == 0
end)
say('the line is now', vim.api.nvim_buf_get_lines(0, line - 1, line, false))

vim.api.nvim_win_set_cursor(0, { line, at + 1 })
say('what "frame" means is asked', vim.split(ask('textDocument/hover', vim.lsp.util.make_position_params()).contents.value, '\n'))

vim.api.nvim_buf_set_lines(0, line, line, false, { '', '', '', '' })
if vim.lsp.buf.format then
  vim.lsp.buf.format({ timeout_ms = 20000 })
else
  vim.lsp.buf.formatting_sync(nil, 20000)
end
say('four empty lines are put in, and the plan is formatted', vim.api.nvim_buf_get_lines(0, line - 1, line + 4, false))

vim.lsp.stop_client(vim.lsp.get_active_clients())
settled('the end of the server', function()
  return #vim.lsp.get_active_clients() == 0
end)
say('the server is asked to stop', {})
vim.cmd('qall!')
