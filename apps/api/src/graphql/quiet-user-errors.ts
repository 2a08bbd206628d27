import { type ArgumentsHost, Catch, type ExceptionFilter } from '@nestjs/common';
import { UserError } from './errors.js';

/** A caller's fault goes back to the caller; it is nothing for our log. */
@Catch(UserError)
export class QuietUserErrors implements ExceptionFilter {
  catch(error: UserError, _host: ArgumentsHost): UserError {
    return error;
  }
}
